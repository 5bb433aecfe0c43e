"""What every test shares: how Hypothesis draws, here and in CI."""

import os

from hypothesis import HealthCheck, settings

# Machines differ in speed, so no deadline; CI draws the same examples each time, so a red run can be repeated.
settings.register_profile("workshop", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile(
    "ci", deadline=None, derandomize=True, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("ci" if os.environ.get("CI") else "workshop")
