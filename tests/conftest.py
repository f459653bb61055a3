"""One profile of hypothesis for every test: the same examples on every machine, no clock."""

from __future__ import annotations

from hypothesis import HealthCheck, Phase, settings

settings.register_profile(
    "house",
    deadline=None,
    derandomize=True,
    max_examples=25,
    phases=(Phase.explicit, Phase.generate, Phase.shrink),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("house")
