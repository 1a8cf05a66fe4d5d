"""Plan where a powertrain stands while it is out of the vehicle, and whether it stays there.

Example:
    >>> import loadplan
    >>> loadplan.__version__
    '0.1.0'
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loadplan.errors import InputError
    from loadplan.files import read_job
    from loadplan.model.job import Job
    from loadplan.report.api import Report, check, check_file

__all__ = ["InputError", "Job", "Report", "__version__", "check", "check_file", "read_job"]

__version__ = "0.1.0"


def __getattr__(name: str) -> object:
    """Load a public name when it is first asked for, so that `import loadplan` stays quick.

    Args:
        name: One of `__all__`.

    Returns:
        What goes by that name.

    Raises:
        AttributeError: If nothing does.
    """
    from importlib import import_module  # noqa: PLC0415  only needed here

    match name:
        case "InputError":
            room = "loadplan.errors"
        case "read_job":
            room = "loadplan.files"
        case "Job":
            room = "loadplan.model.job"
        case "Report" | "check" | "check_file":
            room = "loadplan.report.api"
        case _:
            message = f"module 'loadplan' has no attribute {name!r}"
            raise AttributeError(message)
    return getattr(import_module(room), name)


def __dir__() -> list[str]:
    """Return the public names."""
    return sorted(__all__)
