"""What stands are called on the sheet's first page: by their names where these are short, else by numbers."""

from dataclasses import replace

from loadplan.model.job import Job, Support

LONGEST = 12
"""Most characters of a name that is written beside a stand on the plan."""


def marked(job: Job) -> tuple[Support, ...]:
    """Call the stands of a job by what stands beside them on the plan.

    Args:
        job: The job.

    Returns:
        The stands in the job's order, as they are where all names are short; else each by its number, which the table
        explains.
    """
    if all(len(each.name) <= LONGEST for each in job.supports):
        return job.supports
    return tuple(replace(each, name=str(number)) for number, each in enumerate(job.supports, start=1))
