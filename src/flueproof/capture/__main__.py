"""`python -m flueproof_capture`: the light door."""

import sys

from .door.program import main

sys.exit(main())
