"""What is usually meant where a line is no TOML: a day, two sizes, a decimal comma, a unit without quotes.

Nothing of the line is shown: the path may point anywhere.
"""

import re

_DAY = re.compile(r"=\s*(?:[0-9]{1,2}[./-][0-9]{1,2}[./-][0-9]{2,4}|[0-9]{4}[./-][0-9]{1,2}[./-][0-9]{1,2})\s*(?:#|$)")
_TWO = re.compile(r"[=\[,]\s*[0-9.]+\s*[x×*]\s*[0-9.]+", re.IGNORECASE)
_UNIT = re.compile(r"[=\[,]\s*[0-9][0-9./ ]*\s?(?:[a-z_]+|\"|'|%)\s*(?:$|[,\]}#])", re.IGNORECASE)
_COMMA = re.compile(r"=\s*[0-9]+,[0-9]+\s*(?:$|[,}#])")

_HINTS = (
    (_DAY, "a day is written with its year first, 2026-11-20, without quotes"),
    (_TWO, "two sizes are written as a list, [60, 40]"),
    (_COMMA, "a number takes a point, 11.5, no comma"),
    (_UNIT, 'a number with its unit stands in quotes, "290 mm"'),
)


def hint_at(text: str, message: str) -> str:
    """Say what is usually meant by a line that is no TOML.

    Args:
        text: The file's text.
        message: What the TOML reader says, with the line.

    Returns:
        A hint behind a colon, "" where the line is none of the usual mistakes.
    """
    number = re.search(r"line ([0-9]+)", message)
    lines = text.splitlines()
    if not number or not 1 <= int(number[1]) <= len(lines):
        return ""
    line = lines[int(number[1]) - 1]
    return next((f": {hint}" for pattern, hint in _HINTS if pattern.search(line)), "")
