"""The floor sheet as the live plan prints it, in the process that prints."""

from loadplan.model.verdict import Assessment
from loadplan.units import System


def printed(assessment: Assessment, units: System) -> bytes:
    """Print the floor sheet.

    Args:
        assessment: The job, judged.
        units: The reader's units; they tell the paper, too.

    Returns:
        Content of the PDF.
    """
    # The server has no use for what paints a PDF, which takes half a second to load: nobody waits for it to begin.
    from loadplan.report.sheet.floor_sheet import PaperSize, sheet_pdf  # noqa: PLC0415

    return sheet_pdf(assessment, PaperSize.LETTER if units is System.US else PaperSize.A4, units)
