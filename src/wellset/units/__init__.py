"""Units at the doors, and sourced numbers everywhere.

Inside the project every length is in metres, every angle in radians and every mass in
kilograms. Text with units is read and written here, and only the doors (command line,
pages, reports, importers) call these functions.
"""

from wellset.units.formatting import (
    UnitSystem,
    decimals_for,
    format_angle,
    format_club_heads,
    format_feet_inches,
    format_height,
    format_length,
    format_mass,
)
from wellset.units.parsing import (
    FOOT_M,
    INCH_M,
    POUND_KG,
    degrees,
    parse_angle,
    parse_length,
    parse_mass,
    radians,
)
from wellset.units.records import Edition, Mark, Record
from wellset.units.shoes import foot_length_of_shoe

__all__ = [
    "FOOT_M",
    "INCH_M",
    "POUND_KG",
    "Edition",
    "Mark",
    "Record",
    "UnitSystem",
    "decimals_for",
    "degrees",
    "foot_length_of_shoe",
    "format_angle",
    "format_club_heads",
    "format_feet_inches",
    "format_height",
    "format_length",
    "format_mass",
    "parse_angle",
    "parse_length",
    "parse_mass",
    "radians",
]
