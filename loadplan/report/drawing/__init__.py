"""Drawing: style, pen, text width, labels, views, graphs and pages; knows nothing of a job."""
