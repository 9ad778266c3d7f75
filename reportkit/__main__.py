"""``python -m reportkit`` is the command line."""

import sys

from reportkit.cli import main

sys.exit(main())
