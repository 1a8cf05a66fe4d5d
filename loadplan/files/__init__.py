"""Files: TOML as users write it becomes a job in SI, or every fault in it at once."""

from loadplan.files.job_reader import read_job, read_shop, read_vehicle
from loadplan.files.shipped import shipped_folder, shipped_vehicles

__all__ = ["read_job", "read_shop", "read_vehicle", "shipped_folder", "shipped_vehicles"]
