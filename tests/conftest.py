"""What every test shares: how Hypothesis draws, here and in CI; that Ctrl-C can be tested."""

import os
import signal

from hypothesis import HealthCheck, settings

# Machines differ in speed, so no deadline; CI draws the same examples each time, so a red run can be repeated.
settings.register_profile("workshop", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile(
    "ci", deadline=None, derandomize=True, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("ci" if os.environ.get("CI") else "workshop")

# What is started in the background of a script inherits an ignored Ctrl-C and hands it on to the programs under test,
# which then rightly do not end at it. With a handler set here they start as from a terminal.
signal.signal(signal.SIGINT, signal.default_int_handler)
