"""Random tests are never ended by the clock: a busy machine is no fault."""

import os

from hypothesis import settings

settings.register_profile("cutopt", deadline=None)
settings.load_profile(os.environ.get("CUTOPT_RANDOM_TESTS", "cutopt"))
