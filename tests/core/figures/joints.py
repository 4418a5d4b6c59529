"""Joints and waits to begin a test from: what is not said is as on an ordinary job."""

from typing import Any

from server.core.figures.air import GOOD, Air
from server.core.figures.drying import Drying, DryingAsked, drying
from server.core.figures.joint import Joint, JointAsked, joint
from server.core.figures.moisture import Species

ASH = Species(id="white ash", name="White ash", radial=0.00169, tangential=0.00274)
DRY, DAMP = Air(70.0, 30.0), Air(70.0, 60.0)  # 6.2 and 11.0 %
YEAR = (DRY, DRY, *[Air(70.0, 50.0)] * 3, DAMP, DAMP, *[Air(70.0, 50.0)] * 3, DRY, DRY)


def a_joint(**said: Any) -> Joint:
    """A flat-sawn ash board of 6 in, with a joint of 1/16 to 3/16 in, in a year of 6 to 11 %."""
    usual: dict[str, Any] = {
        "width_in": 6.0, "species": ASH, "grain": "flat", "least_in": 1 / 16, "most_in": 3 / 16,
        "months": YEAR,
    }  # fmt: skip
    return joint(JointAsked(**{**usual, **said}))


def a_wait(**said: Any) -> Drying:
    """Gypsum plaster of 1/2 in that dries in air of 70 °F and 50 %."""
    usual: dict[str, Any] = {"stuff": "gypsum", "stage": "last", "air": GOOD, "thick_in": 0.5}
    return drying(DryingAsked(**{**usual, **said}))
