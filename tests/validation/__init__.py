"""Published and hand-derived values, one file a source; every case is a real job that goes through the real path.

Known figures that nothing here computes, so that a test of them would only check itself:

| figure | why not |
| --- | --- |
| energy stability margin, m·g·(√(d² + z²) − z) = 147.10 J for 300 kg, d 0.25 m, z 0.60 m | no figure of ours |
| force-angle measure of the same body, 1161.47 N·rad | no figure of ours |
| horizontal forces in the hinges of a door, 100 N each | sideways forces in mounts are found, but not told |
| a slope under a saddle (wedge, inclined plane) | saddles are level: the wedge is held by turning its face level |
| factors of 1.4 and 2.1 on the legs of a sling | a rule, not a figure: held through the bound behind it |
"""
