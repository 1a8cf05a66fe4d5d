"""Answers that are kept between two sittings: a TOML file with a text for each question."""

import os
from collections.abc import Mapping
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.toml_edit import quoted
from loadplan.files.toml_source import open_source

KEPT_SCHEMA = "loadplan-answers-1"


def kept(texts: Mapping[str, str]) -> bytes:
    """Write answers.

    Args:
        texts: Each answer by the key of its question.

    Returns:
        Content of the file.
    """
    lines = [
        f'schema = "{KEPT_SCHEMA}"',
        "[answers]",
        *(f"{quoted(key)} = {quoted(text)}" for key, text in texts.items()),
    ]
    return ("\n".join(lines) + "\n").encode("utf-8")


def read_kept(path: Path) -> dict[str, str]:
    """Read answers.

    Args:
        path: The file.

    Returns:
        Each answer by the key of its question, none where there is no file.

    Raises:
        InputError: If the file is there and cannot be understood; it is left as it is.
    """
    if not os.path.lexists(path):
        return {}
    answers = open_source(path, KEPT_SCHEMA).raw.get("answers")
    if not isinstance(answers, dict):
        raise InputError(Fault(str(path), "", "", "holds no answers kept: put it away"))
    return {key: text for key, text in answers.items() if isinstance(text, str)}
