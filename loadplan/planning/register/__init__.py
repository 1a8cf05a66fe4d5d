"""The register: many jobs against what the shop owns."""
