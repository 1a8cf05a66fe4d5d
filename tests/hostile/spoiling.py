"""Changing bytes: what is left is nearly what it was, cut, doubled, mixed with another, or with a sign that is odd."""

import random

PIECES = (
    *(b"\x00", b"\xff", b"\xed\xa0\x80", b"\xef\xbb\xbf", b"\r\n", b"\n\n", b"\t", b"\x1b[2J", b"\x7f", b'"', b"'''"),
    *('"""', "\u202e", "\u2066", "\u200d", "ﬁ", "٣", "½", "−", "\U0001f9f0", "e\u0301" * 9, "\u2028", "\u00a0"),
    *("1e400", "-1e-400", "nan", "inf", "-0", "0x7f", "1_000", "9" * 300, "1/0", "12 mm", "3 tonne", "-5 kg", "1,5"),
    *("[[", "]]", "{}", "[[stage]]\n", "=", "a.b.c=1\n", "../", "/dev/zero", "CON", "%00", "&", "&#x27;", "{{7*7}}"),
    *(
        "<script>",
        "$(id)",
        "2026-02-30",
        "9999-12-31",
        "yes",
        "no",
        "not known",
        "0",
        "-1",
        "1.5.2",
        ",",
        " to ",
        "step 0",
    ),
)
"""What is put in: signs that readers stumble over, and words that mean something here."""


def spoilt(content: bytes, dice: random.Random, largest: int, other: bytes = b"") -> bytes:
    """Change some bytes.

    Args:
        content: What is changed.
        dice: Decides where and how.
        largest: Most bytes that come back.
        other: What it may be mixed with.

    Returns:
        What comes of it.
    """
    held = bytearray(content)
    for _ in range(dice.choice((1, 1, 1, 2, 3, 6))):
        at, until = sorted((dice.randrange(len(held) + 1), dice.randrange(len(held) + 1)))
        until = min(until, at + dice.choice((1, 1, 4, 30, 400)))
        match dice.randrange(7):
            case 0:
                held[at:at] = _piece(dice)
            case 1:
                held[at:until] = _piece(dice)
            case 2:
                del held[at:until]
            case 3:
                held[at:at] = held[at:until] * dice.choice((1, 1, 2, 50))
            case 4 if at < len(held):
                held[at] ^= 1 << dice.randrange(8)
            case 5:
                begin = dice.randrange(len(other) + 1)
                held[at:until] = other[begin : begin + dice.choice((3, 20, 200))]
            case _:
                del held[at + dice.choice((0, 5, 60)) :]
    return bytes(held[:largest])


def _piece(dice: random.Random) -> bytes:
    piece = dice.choice(PIECES)
    return piece if isinstance(piece, bytes) else piece.encode()
