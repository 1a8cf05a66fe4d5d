"""Drawing: style, pen, text width, labels, views, graphs and pages; knows nothing of a job."""

import logging

# Where it may not keep its list of fonts matplotlib tells so on the terminal, in three lines, and goes on without.
logging.getLogger("matplotlib").setLevel(logging.ERROR)
