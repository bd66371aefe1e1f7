"""Start the command line: ``python -m wellset``."""

import sys

from wellset.cli import main

if __name__ == "__main__":
    sys.exit(main())
