"""``python -m reportkit`` is the command line."""

import sys

from reportkit.app.command_line import main

sys.exit(main())
