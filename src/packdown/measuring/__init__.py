"""From mesh files to parts: size, cover, core, volume, weight, base and centre of gravity."""

from packdown.measuring.many import find_files, measure_files
from packdown.measuring.measure import How, Measured, measure_file
from packdown.measuring.scale import UNITS
from packdown.measuring.weighing import find_material, read_materials

__all__ = [
    "UNITS",
    "How",
    "Measured",
    "find_files",
    "find_material",
    "measure_file",
    "measure_files",
    "read_materials",
]
