"""Which names a job file may be given on the page: such as can be opened on every system, in the folder itself."""

from pathlib import Path

from loadplan.board.refusals import RefusedError
from loadplan.files.work_record_file import RECORD_ENDING

FORBIDDEN = frozenset('<>:"/\\|?*')
"""Signs that no name may hold on some system on which the folder may be opened."""

CONSOLE = frozenset({"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"})
RESERVED = CONSOLE | {f"{port}{n}" for port in ("COM", "LPT") for n in "0123456789¹²³"}
"""Names that mean a device there, whatever ending stands behind (Microsoft, Naming Files, Paths, and Namespaces; the
last two of the console: Python's own documentation, os.path.isreserved)."""

LONGEST_NAME = 200
"""Longest name of a job file [bytes]; systems take 255, and other files are called after it."""


def job_file(folder: Path, name: str) -> Path:
    """Return the job file of a name, in the folder and nowhere else.

    Args:
        folder: The folder.
        name: What somebody typed.

    Returns:
        The file; whether it is there does not count.

    Raises:
        RefusedError: If the name is none for a job file, or leads elsewhere.
    """
    plain = Path(name).name == name and name.endswith(".toml") and name.isprintable()
    # A name that begins with a dot is hidden, one that begins with a space is taken for another.
    reserved = name.startswith((".", " ")) or name.partition(".")[0].strip().upper() in RESERVED
    if not plain or reserved or FORBIDDEN & set(name) or len(name.encode()) > LONGEST_NAME:
        raise RefusedError('Not a name for a job file: write one such as "front-unit-2.toml", without a folder.')
    if name.casefold().endswith(RECORD_ENDING):
        # Where the record of another job belongs nothing could be kept of what is done there.
        raise RefusedError(f"Not a name for a job file: one that ends in {RECORD_ENDING} is the record of a job.")
    return folder / name
