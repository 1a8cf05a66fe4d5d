"""Pack the program and all its packages into one file that runs where Python stands and nothing else is installed.

The packing is shiv's, and so is what follows here on the command line. On its first run the file unpacks itself; where
it may not, shiv ends with a traceback, so the file begins with a few lines of our own that say what to do.
"""

from shiv import builder, cli

MAIN = """\
import os
import sys

import {module}

try:
    {module}.{fn}()
except OSError as error:
    # The program itself lets none through: it could not be unpacked.
    root = os.environ.get("SHIV_ROOT") or os.path.join("~", ".shiv")
    says = error.strerror or error
    sys.stderr.write(f"{{root}}: takes not what is unpacked there ({{says}}): name another folder by SHIV_ROOT\\n")
    sys.exit(2)
"""
"""How the file begins; shiv puts in what it calls."""


if __name__ == "__main__":
    # A name that shiv does not promise to keep: the test of the single file tells when it goes.
    builder.MAIN_TEMPLATE = MAIN
    cli.main()
