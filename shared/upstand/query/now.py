"""What was measured on the roof: temperatures, humidity, wind, rain, and whether it is wet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upstand.quantity.traced import asked
from upstand.query.faults import pointer
from upstand.query.fields import Flag, QuantityField
from upstand.query.model import Now
from upstand.query.strict import StrictSchema


def temperature() -> QuantityField:
    """Make a field for a temperature that a roof can have, loaded in °F."""
    return QuantityField(
        "temperature",
        "degF",
        least=-60.0,
        most=200.0,
        bounds_say="no roof is so cold or so hot; write a temperature from -60 °F to 200 °F "
        "(-51 °C to 93 °C)",
    )


def percent(say: str) -> QuantityField:
    """Make a field for a share from 0 to 100 percent."""
    return QuantityField("fraction", "percent", least=0.0, most=100.0, bounds_say=say)


class NowSchema(StrictSchema):
    """What was measured on the roof."""

    air = temperature()
    surface = temperature()
    material = temperature()
    humidity = percent("write a relative humidity from 0 % to 100 %")
    rain_chance = percent("write a chance of rain from 0 % to 100 %")
    wind = QuantityField(
        "speed", "mph", least=0.0, most=250.0, bounds_say='write a speed such as "12 mph"'
    )
    wet = Flag()


def read_now(loaded: Mapping[str, Any], *place: str | int) -> Now:
    """Make readings of what the schema let through: °F, percent and mph, with their pointers."""

    def traced(name: str, unit: str) -> Any:
        value = loaded.get(name)
        return None if value is None else asked(value, unit, pointer(*place, name))

    return Now(
        **{name: traced(name, "degF") for name in ("air", "surface", "material")},
        **{name: traced(name, "percent") for name in ("humidity", "rain_chance")},
        wind=traced("wind", "mph"),
        wet=loaded.get("wet"),
    )
