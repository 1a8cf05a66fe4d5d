"""Pictures of a job: plan, elevations, load chart, lowering, walk of the centre of gravity, live plan."""
