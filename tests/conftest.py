"""Settings that all tests share."""

from hypothesis import HealthCheck, settings

# The same examples in every run: a red test is a finding, not luck. Longer random runs are a command in DEVELOPERS.md.
settings.register_profile(
    "steady", derandomize=True, deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", deadline=None, max_examples=2000, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")
