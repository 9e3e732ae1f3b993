"""Heat index, wet bulb and indoor WBGT, from the temperature of the air and its relative humidity."""

from math import atan, sqrt

from courttimer.care.sources import Source

ROTHFUSZ = Source("Rothfusz 1990, NWS Technical Attachment SR 90-23", "with the adjustments of the Weather Prediction Center")
STULL = Source("Stull 2011, J. Appl. Meteor. Climatol. 50:2267-2269", "eq. 1; 5 to 99 %, -20 to 50 °C, at sea level")
ISO_7243 = Source("ISO 7243", "WBGT without sun: 0.7 natural wet bulb + 0.3 globe")


def fahrenheit(celsius: float) -> float:
    """°C to °F."""
    return celsius * 1.8 + 32


def celsius(fahrenheit: float) -> float:
    """°F to °C."""
    return (fahrenheit - 32) / 1.8


def regression(t: float, rh: float) -> float:
    """The bare polynomial of the heat index; t and result in °F, rh in percent. Source: `ROTHFUSZ`. The NWS chart shows these."""
    return (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * rh
        - 0.22475541 * t * rh
        - 0.00683783 * t**2
        - 0.05481717 * rh**2
        + 0.00122874 * t**2 * rh
        + 0.00085282 * t * rh**2
        - 0.00000199 * t**2 * rh**2
    )


def adjustment(t: float, rh: float) -> float:
    """What is added to the polynomial in very dry and in very damp air, in °F. Source: `ROTHFUSZ`."""
    if rh < 13 and 80 <= t <= 112:
        return -((13 - rh) / 4) * sqrt((17 - abs(t - 95)) / 17)
    if rh > 85 and 80 <= t <= 87:
        return ((rh - 85) / 10) * ((87 - t) / 5)
    return 0.0


def heat_index(t: float, rh: float) -> float:
    """Heat index in °F. Source: `ROTHFUSZ`. Below 80 the simple formula, which holds one averaging with t already: no second one."""
    simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + rh * 0.094)
    return simple if simple < 80 else regression(t, rh) + adjustment(t, rh)


def wet_bulb(air: float, rh: float) -> float:
    """Psychrometric wet bulb in °C from °C and percent. Source: `STULL`; what is outside its range is computed at its edge."""
    t, rh = min(max(air, -20.0), 50.0), min(max(rh, 5.0), 99.0)
    return (
        t * atan(0.151977 * sqrt(rh + 8.313659))
        + atan(t + rh)
        - atan(rh - 1.676331)
        + 0.00391838 * rh * sqrt(rh) * atan(0.023101 * rh)
        - 4.686035
    )


def wbgt_without_sun(natural_wet_bulb: float, globe: float) -> float:
    """WBGT in °C. Source: `ISO_7243`."""
    return 0.7 * natural_wet_bulb + 0.3 * globe


def indoor_wbgt(air: float, rh: float) -> float:
    """An estimate, in °C: Stull's wet bulb stands for the natural one, the air for the globe."""
    return wbgt_without_sun(wet_bulb(air, rh), air)
