"""Random tests are never ended by the clock: a busy machine is no fault. Errors of the program are raised."""

import os

from hypothesis import settings

os.environ["CUTOPT_DEBUG"] = "1"
settings.register_profile("cutopt", deadline=None)
settings.load_profile(os.environ.get("CUTOPT_RANDOM_TESTS", "cutopt"))
