"""What is usually meant where a line is no TOML: a day, two sizes, a decimal comma, quotes left out or curled.

Nothing of the line is shown: the path may point anywhere.
"""

import re

_DAY = re.compile(r"=\s*(?:[0-9]{1,2}[./-][0-9]{1,2}[./-][0-9]{2,4}|[0-9]{4}[./-][0-9]{1,2}[./-][0-9]{1,2})\s*(?:#|$)")
_TWO = re.compile(r"[=\[,]\s*[0-9.]+\s*[x×*]\s*[0-9.]+", re.IGNORECASE)
_UNIT = re.compile(r"[=\[,]\s*[0-9][0-9./ ]*\s?(?:[a-z_]+|\"|'|%)\s*(?:$|[,\]}#])", re.IGNORECASE)
_COMMA = re.compile(r"=\s*[0-9]+,[0-9]+\s*(?:$|[,}#])")
_CURLED = re.compile("[\u201c\u201d\u201e\u201f]")
_OPEN = re.compile(r"^[^\"'#]*=\s*\[?\s*\"[^\"]*$")
_WORDS = re.compile(r"=\s*(?!true\b|false\b|inf\b|nan\b)[^\W\d_][^\"'=]*$")
_SIDE_BY_SIDE = re.compile(r"[\[,]\s*\"[^\",]*\"\s*\"")

_HINTS = (
    (_CURLED, 'quotes are the straight ones, "A": write it in a plain text editor'),
    (_OPEN, "words stand in quotes, and the last one is missing"),
    (_DAY, "a day is written with its year first, 2026-11-20, without quotes"),
    (_TWO, "two sizes are written as a list, [60, 40]"),
    (_COMMA, "a number takes a point, 11.5, no comma"),
    (_UNIT, 'a number with its unit stands in quotes, "290 mm"'),
    (_WORDS, 'words stand in quotes, "front left"'),
    (_SIDE_BY_SIDE, 'a comma goes between two names, ["A", "B"]'),
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
