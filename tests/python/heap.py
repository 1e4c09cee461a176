"""How loose material lies between walls, by numerical integration with NumPy.

Reads a JSON list of heaps from standard input: length, width and height of the walls in m, the slope of the material's
sides (rise over run), the volume in m3, whether it is heaped, and the highest point that somebody else found. Writes a JSON list of answers: the highest point, the height at
the walls and that of the centre of gravity in m, the volume that runs over, and how far what lies under that other highest
point is from what stays there, as a part of it. Nothing here is taken from the Rust code, and
no formula for a volume is used: the surface is a height over every point of the floor, which depends on the distance to the
nearest wall, and it is raised until what lies under it is the volume.
"""

import json
import sys

import numpy

CELLS = 400


def distances(length, width):
    """From the middle of every cell of the floor to the nearest wall, and the area of a cell."""
    along = (numpy.arange(CELLS) + 0.5) / CELLS * length
    across = (numpy.arange(CELLS) + 0.5) / CELLS * width
    x, y = numpy.meshgrid(along, across)
    nearest = numpy.minimum(numpy.minimum(x, length - x), numpy.minimum(y, width - y))
    return nearest, length * width / CELLS**2


def raised(surface, volume, low, high, cell):
    """The height to which a surface has to be raised to hold the volume."""
    for _ in range(60):
        middle = (low + high) / 2
        if surface(middle).sum() * cell < volume:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def lying(length, width, walls, slope, volume, heaped, other):
    nearest, cell = distances(length, width)
    steep = slope * nearest
    top = walls + slope * min(length, width) / 2
    full = (walls + steep).sum() * cell
    spilled = max(volume - full, 0.0)
    kept = volume - spilled
    if heaped:
        # The foot may lie below the floor: then the heap does not reach the walls.
        surface = lambda foot: numpy.maximum(foot + steep, 0.0)
        foot = raised(surface, kept, -slope * min(length, width) / 2, walls, cell)
        heights, others = surface(foot), surface(other - slope * min(length, width) / 2)
        highest, at_walls = foot + slope * min(length, width) / 2, max(foot, 0.0)
    else:
        # Level, and above the walls only as far in as the slope lets it.
        surface = lambda level: numpy.minimum(level, walls + steep)
        highest = raised(surface, kept, 0.0, top, cell)
        heights, others, at_walls = surface(highest), surface(other), min(highest, walls)
    centre = (heights**2 / 2).sum() / heights.sum()
    # Above the peak nothing more lies under a level.
    off = abs(others.sum() * cell - kept) / kept if other <= top + 1e-9 else 1.0
    return [float(highest), float(at_walls), float(centre), float(spilled), float(off)]


json.dump([lying(*heap) for heap in json.load(sys.stdin)], sys.stdout)
