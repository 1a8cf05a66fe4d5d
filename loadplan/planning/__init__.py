"""Planning: what if; every proposal is judged by the same assessment as a job."""
