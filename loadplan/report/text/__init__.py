"""Pages of plain text: what a terminal shows of a check, a placement, heights, an order, a weighing, a register."""
