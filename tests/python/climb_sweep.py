"""A wheeled machine rolled up a ramp, by brute force with shapely and numpy.

Nothing here is taken from the Rust code. Frame: x forward from the deck's rear edge (as it lies level), z up from the
ground under the trailer, SI throughout.

The wheel centres' curves are the upper outlines of shapely's buffers of the profile; the pose at a place is found by
bisection on the distance between the centres; the course is gone through in small steps, and in ever smaller ones
wherever a least value could hide. With 0.05 mm as the last step and buffers of 2,048 chords a turn, a least gap is good
to about 0.05 mm and a force to about 1e-4 of the machine's weight.
"""

import math

import numpy
import shapely

QUARTER = 512
STEP = 0.004
GROUND, RAMP, DECK = 0, 1, 2


class Profile:
    """Ground, ramp, dovetail and deck; `points` run from the ground behind the foot to the deck's front edge."""

    def __init__(self, height, length, ramp, foot_rise=0.0, dovetail=None, tilt=0.0, hinge=0.0):
        self.height, self.length = height, length
        self.tilt, self.hinge = tilt, hinge
        along, drop = dovetail or (0.0, 0.0)
        deck = [(0.0, height - drop)]
        if dovetail:
            deck.append((along, height))
        deck.append((length, height))
        deck = [self.turned(x, z) for x, z in deck]
        self.rise = deck[0][1] - foot_rise
        self.possible = abs(self.rise) < ramp
        if not self.possible:
            return
        self.angle = math.asin(self.rise / ramp)
        foot = (deck[0][0] - ramp * math.cos(self.angle), foot_rise)
        self.points = numpy.array([(foot[0] - 60.0, foot_rise), foot, *deck])
        self.kinds = numpy.array([GROUND, RAMP] + [DECK] * (len(deck) - 1))
        self.foot, self.edge, self.front = foot[0], deck[0][0], deck[-1][0]

    def turned(self, x, z):
        """A point of the deck as it lies level, after the bed was tilted about its hinge, rear down."""
        c, s = math.cos(self.tilt), math.sin(self.tilt)
        dx, dz = x - self.hinge, z - self.height
        return self.hinge + dx * c - dz * s, self.height + dx * s + dz * c

    def at(self, x):
        return numpy.interp(x, self.points[:, 0], self.points[:, 1])

    def centres(self, radius):
        """Where the centre of a wheel runs, as a polyline: the upper outline of everything within a radius."""
        # Piece by piece, because the buffer of a bent line is simplified before it is made.
        pieces = [shapely.LineString(pair) for pair in zip(self.points, self.points[1:])]
        whole = shapely.union_all([piece.buffer(radius, quad_segs=QUARTER) for piece in pieces])
        ring = numpy.array(shapely.geometry.polygon.orient(whole).exterior.coords)[:-1]
        ring = numpy.roll(ring, -int(ring[:, 0].argmax()), axis=0)
        upper = ring[: int(ring[:, 0].argmin()) + 1][::-1]
        assert (numpy.diff(upper[:, 0]) > -1e-9).all()
        return upper

    def touched(self, x, z):
        """The point of the profile nearest to each of these, and what it belongs to."""
        best = numpy.full(x.shape, numpy.inf)
        at, kind = numpy.zeros(x.shape), numpy.zeros(x.shape, dtype=int)
        for (x0, z0), (x1, z1), which in zip(self.points, self.points[1:], self.kinds):
            part = ((x - x0) * (x1 - x0) + (z - z0) * (z1 - z0)) / ((x1 - x0) ** 2 + (z1 - z0) ** 2)
            part = numpy.clip(part, 0.0, 1.0)
            px, pz = x0 + part * (x1 - x0), z0 + part * (z1 - z0)
            far = numpy.hypot(x - px, z - pz)
            nearer = far < best - 1e-12
            # What stands on the edge stands on the deck.
            which = numpy.where((which == RAMP) & (part >= 1.0), DECK, which)
            best, at = numpy.where(nearer, far, best), numpy.where(nearer, px, at)
            kind = numpy.where(nearer, which, kind)
        return at, kind


class Machine:
    """As it goes up: u runs in the direction of travel from the datum, heights are above the ground it stands level on.

    `chains` are lists of (arm, clearance); `weight`, `arm` and `cg_height` are those of the machine with attachments.
    """

    def __init__(self, wheelbase, front_radius, rear_radius, chains, weight=0.0, arm=0.0, cg_height=None, backward=False):
        sign = -1.0 if backward else 1.0
        axles = sorted([(0.0, rear_radius), (sign * wheelbase, front_radius)])
        (self.low_u, self.low_r), (self.high_u, self.high_r) = axles
        self.apart = math.hypot(wheelbase, front_radius - rear_radius)
        self.wheelbase = wheelbase
        self.lean = math.atan2(self.high_r - self.low_r, wheelbase)
        self.chains = [numpy.array([(sign * u, z) for u, z in chain])[:: int(sign)] for chain in chains]
        self.weight, self.cg_u, self.cg_height = weight, sign * arm, cg_height


class Climb:
    def __init__(self, profile, machine):
        self.profile, self.machine = profile, machine
        self.low, self.high = profile.centres(machine.low_r), profile.centres(machine.high_r)

    def pose(self, low_x):
        """Centres of both wheels and the pitch, for each place of the lower wheel's centre."""
        low_z = numpy.interp(low_x, *self.low.T)
        near, far = low_x.copy(), low_x + self.machine.apart
        for _ in range(48):
            middle = (near + far) / 2
            beyond = numpy.hypot(middle - low_x, numpy.interp(middle, *self.high.T) - low_z) > self.machine.apart
            near, far = numpy.where(beyond, near, middle), numpy.where(beyond, middle, far)
        high_z = numpy.interp(far, *self.high.T)
        return low_z, far, high_z, numpy.arctan2(high_z - low_z, far - low_x) - self.machine.lean

    def carried(self, u, z, low_x, low_z, pitch):
        """Where points of the machine are; a row for each pose."""
        du, dz = u - self.machine.low_u, z - self.machine.low_r
        c, s = numpy.cos(pitch)[:, None], numpy.sin(pitch)[:, None]
        return low_x[:, None] + du * c - dz * s, low_z[:, None] + du * s + dz * c

    def gaps(self, low_x, low_z, pitch):
        """The least vertical gap in each pose: a corner of one over or under the other."""
        least = numpy.full(low_x.shape, numpy.inf)
        for chain in self.machine.chains:
            x, z = self.carried(chain[:, 0], chain[:, 1], low_x, low_z, pitch)
            over = numpy.where(x <= self.profile.front, z - self.profile.at(x), numpy.inf)
            least = numpy.minimum(least, over.min(axis=1))
            for px, pz in self.profile.points[1:]:
                x0, x1, z0, z1 = x[:, :-1], x[:, 1:], z[:, :-1], z[:, 1:]
                with numpy.errstate(divide="ignore", invalid="ignore"):
                    part = (px - x0) / (x1 - x0)
                    above = z0 + part * (z1 - z0) - pz
                above = numpy.where((part >= 0.0) & (part <= 1.0), above, numpy.inf)
                if above.size:
                    least = numpy.minimum(least, above.min(axis=1))
        return least

    def measured(self, low_x, rig=None):
        """What is looked at, for each place: gap, and with a rig (group's station, station of the level deck's rear edge)
        the machine's own part of the tongue, what the ramps bear, and the moment about the ball."""
        low_z, high_x, high_z, pitch = self.pose(low_x)
        found = {"gap": self.gaps(low_x, low_z, pitch), "pitch": pitch}
        if rig is None:
            return found
        group, rear = rig
        machine, profile = self.machine, self.profile
        low_at, low_kind = profile.touched(low_x, low_z)
        high_at, high_kind = profile.touched(high_x, high_z)
        if machine.cg_height is None:
            on_high = numpy.full(low_x.shape, machine.weight * (machine.cg_u - machine.low_u) / machine.wheelbase)
        else:
            cg = numpy.array([machine.cg_u]), numpy.array([machine.cg_height])
            cg_x = self.carried(*cg, low_x, low_z, pitch)[0][:, 0]
            on_high = machine.weight * (cg_x - low_at) / (high_at - low_at)
        own, ramps, moment = (numpy.zeros(low_x.shape) for _ in range(3))
        for load, at, kind in ((machine.weight - on_high, low_at, low_kind), (on_high, high_at, high_kind)):
            part = (at - profile.foot) / (profile.edge - profile.foot)
            force = numpy.select([kind == GROUND, kind == RAMP], [0.0, part * load], load)
            station = rear - numpy.where(kind == DECK, at, profile.edge)
            own += force * (group - station) / group
            moment += force * station
            ramps += numpy.where(kind == RAMP, load, 0.0)
        return found | {"own": own, "ramps": ramps, "moment": moment, "on_high": on_high, "kinds": (low_kind, high_kind)}

    def ends(self, datum):
        """The lower wheel's centre at the start, all level behind the foot, and with the datum at its place on the deck,
        given as the deck lies level."""
        machine, profile = self.machine, self.profile
        foremost = max([machine.high_u, *(chain[-1, 0] for chain in machine.chains)])
        start = profile.foot - (foremost - machine.low_u) - 2 * max(machine.low_r, machine.high_r) - 0.01
        return start, profile.turned(datum + machine.low_u, profile.height + machine.low_r)[0]

    def sweep(self, datum, rig=None):
        """The least and most of everything over the whole course, as (value, the lower wheel's centre there)."""
        start, end = self.ends(datum)
        first = numpy.linspace(start, end, max(2, math.ceil((end - start) / STEP) + 1))
        whole, stride, weight = self.measured(first, rig), first[1] - first[0], self.machine.weight
        if rig is not None:
            # Where a wheel comes to something else forces jump, and both wheels may do so within one step.
            low, high = (numpy.diff(kind) != 0 for kind in whole["kinds"])
            jumps = first[:-1][low | high, None] + numpy.linspace(0.0, stride, 400)
            first = numpy.unique(numpy.append(first, jumps))
            whole = self.measured(first, rig)
        # What is sought, which way, and how fast it can change at most (per metre).
        wanted = [("gap", 1.0, 4.0)]
        if rig is not None:
            wanted += [("own", 1.0, 4.0 * weight), ("ramps", -1.0, 4.0 * weight), ("moment", -1.0, 4.0 * weight * rig[1])]
        result = {}
        for name, sign, pace in wanted:
            at, value, step = first, sign * whole[name], stride
            best = (value.min(), at[value.argmin()])
            low, high = at[:-1], at[1:]
            lower = numpy.minimum(value[:-1], value[1:])
            level = numpy.abs(numpy.diff(value)) < 1e-9 * pace
            for _ in range(2):
                chosen = (lower < best[0] + pace * step) & ~level
                if chosen.sum() > 1500:
                    chosen &= lower <= numpy.partition(lower[chosen], 1500)[1500]
                if not chosen.any():
                    break
                grid = low[chosen, None] + (high - low)[chosen, None] * numpy.linspace(0.0, 1.0, 10)
                value = sign * self.measured(grid.ravel(), rig)[name].reshape(grid.shape)
                if value.min() < best[0]:
                    best = (value.min(), grid.ravel()[value.argmin()])
                low, high = grid[:, :-1].ravel(), grid[:, 1:].ravel()
                lower = numpy.minimum(value[:, :-1], value[:, 1:]).ravel()
                level = numpy.abs(numpy.diff(value, axis=1)).ravel() < 1e-9 * pace
                step /= 9
            result[name] = (sign * float(best[0]), float(best[1]))
        if rig is not None:
            result["lightest"] = float(numpy.minimum(whole["on_high"], weight - whole["on_high"]).min())
        return result
