"""`python -m armwright.cli`."""

import sys

from armwright.cli import main

sys.exit(main())
