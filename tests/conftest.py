"""What holds for all tests: how hypothesis searches."""

import os

from hypothesis import settings

# No deadline: a busy machine is no failure. In CI the search repeats itself, so that red means the change is red.
settings.register_profile("bench", deadline=None, print_blob=True)
settings.register_profile("ci", parent=settings.get_profile("bench"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "bench")
