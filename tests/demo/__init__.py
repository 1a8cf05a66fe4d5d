"""The demo jobs and the vehicles that ship: invented data, held to what each was made for."""
