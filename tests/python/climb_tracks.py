"""A tracked machine driven up a ramp, by brute force with numpy: a flat base that rests on the profile.

Frame and profile are those of `climb_sweep.py`. With its centre of gravity over a given place, the machine is tried at
many pitches, let down at each until it touches. What touches ahead of the vertical through the centre of gravity lets the
nose go up, what touches behind it lets it come down; it rests where both hold it. Going forward, it stays with its own rest
for as long as there is one near. Where it ends, the machine tips about the point that it touches, until it rests again.
"""

import math

import numpy

from climb_sweep import DECK, GROUND, RAMP

STEP = 0.004
PITCHES = numpy.radians(numpy.arange(-6.0, 46.0, 0.1))
TIE = 1e-7


class Tracked:
    """As it goes up: u runs in the direction of travel from the lower end of the contact. Arms are ahead of its rear end."""

    def __init__(self, contact, chains, weight, arm, cg_height, backward=False):
        self.contact, self.weight, self.cg_height = contact, weight, cg_height
        turn = (lambda arm: contact - arm) if backward else (lambda arm: arm)
        self.cg_u = turn(arm)
        self.chains = [numpy.array([(turn(u), z) for u, z in chain])[:: -1 if backward else 1] for chain in chains]


class TrackClimb:
    def __init__(self, profile, machine):
        self.profile, self.machine = profile, machine

    def touching(self, x, pitch):
        """With the centre of gravity over x, at this pitch: its height, and how far each point that could touch (the ends
        of the base, corners of the profile) is above the profile, in rows with the place of each."""
        machine, profile = self.machine, self.profile
        c, s = numpy.cos(pitch), numpy.sin(pitch)
        places, heights = [], []
        for u in (0.0, machine.contact):
            du = u - machine.cg_u
            place = x + du * c + machine.cg_height * s
            places.append(place)
            heights.append(profile.at(place) - (du * s - machine.cg_height * c))
        rear, front = places
        for px, pz in profile.points[1:]:
            du = (px - x - machine.cg_height * s) / c
            under = (px >= rear) & (px <= front)
            places.append(numpy.broadcast_to(px, numpy.shape(rear)))
            heights.append(numpy.where(under, pz - (du * s - machine.cg_height * c), -numpy.inf))
        heights = numpy.array(heights)
        height = heights.max(axis=0)
        return height, height - heights, numpy.array(places)

    def rests(self, x, low, high):
        """The pitch between these at which it rests, for each x: nose up while it touches ahead only."""
        for _ in range(34):
            middle = (low + high) / 2
            _, above, places = self.touching(x, middle)
            touched = numpy.take_along_axis(places, above.argmin(axis=0)[None], axis=0)[0]
            low, high = numpy.where(touched > x, middle, low), numpy.where(touched > x, high, middle)
        return (low + high) / 2

    def course(self, start, end):
        """Places of the centre of gravity with the pitch there, and (from, to, pitch before, pitch after) of each tip."""
        first = numpy.linspace(start, end, math.ceil((end - start) / STEP) + 1)
        _, above, places = self.touching(first[:, None], PITCHES[None, :])
        touched = numpy.take_along_axis(places, above.argmin(axis=0)[None], axis=0)[0]
        ahead = touched > first[:, None]
        at, free, xs, pitches, tips = int(numpy.abs(PITCHES).argmin()), -numpy.inf, [], [], []
        for x, row in zip(first, ahead):
            if x < free:
                continue
            before = at
            while not row[at]:
                at -= 1
            while row[at]:
                at += 1
            if xs and before - at > 10:
                free = self.tip(xs[-1], x, pitches[-1], PITCHES[at], tips)
                if x < free:
                    continue
            xs.append(x)
            pitches.append(PITCHES[at])
        xs, pitches = numpy.array(xs), numpy.array(pitches)
        return xs, self.rests(xs, pitches - 1.1 * (PITCHES[1] - PITCHES[0]), pitches), tips

    def tip(self, last, beyond, pitch, after, tips):
        """Between the last place where it rested and the next: where it tips, and where its centre of gravity comes to."""
        corners = [px for px, _ in self.profile.points[1:] if last - 1e-9 <= px <= beyond + 1e-9]
        assert len(corners) == 1, (last, beyond, corners)
        pivot, machine = corners[0], self.machine
        near = numpy.array([pivot - 1e-7])
        pitch = float(self.rests(near, numpy.array([pitch - 0.01]), numpy.array([pitch + 0.01]))[0])
        # The vertical through the centre of gravity goes through the pivot now, which so is this far along the base.
        ahead = machine.cg_height * math.tan(pitch)
        to = pivot
        for _ in range(12):
            near = numpy.array([to])
            found = float(self.rests(near, numpy.array([after - 0.01]), numpy.array([after + 0.01]))[0])
            to = pivot + ahead * math.cos(found) - machine.cg_height * math.sin(found)
        tips.append((pivot, to, pitch, found))
        return to

    def measured(self, x, pitch, rig):
        machine, profile = self.machine, self.profile
        height, above, places = self.touching(x, pitch)
        least = self.gaps(x, height, pitch)
        touched = above < 1e-6 + TIE
        low = numpy.where(touched & (places <= x + 1e-9), places, -numpy.inf)
        high = numpy.where(touched & (places >= x - 1e-9), places, numpy.inf)
        low_at, high_at = low.max(axis=0), high.min(axis=0)
        sure = numpy.isfinite(low_at) & numpy.isfinite(high_at)
        low_at, high_at = numpy.where(sure, low_at, x), numpy.where(sure, high_at, x)
        apart = numpy.maximum(high_at - low_at, 1e-12)
        on_high = numpy.where(high_at - low_at > 1e-9, machine.weight * (x - low_at) / apart, machine.weight)
        on_ramp = numpy.abs(pitch - profile.angle) < 1e-6
        own, ramps, moment = (numpy.zeros(x.shape) for _ in range(3))
        group, rear = rig
        for load, at in ((machine.weight - on_high, low_at), (on_high, high_at)):
            kind = numpy.where(at < profile.edge, numpy.where(at > profile.foot, RAMP, GROUND), DECK)
            part = (at - profile.foot) / (profile.edge - profile.foot)
            force = numpy.select([kind == GROUND, kind == RAMP], [0.0, part * load], load)
            station = rear - numpy.where(kind == DECK, at, profile.edge)
            own += force * (group - station) / group
            moment += force * station
            ramps += numpy.where(on_ramp | (kind == RAMP), load, 0.0)
        found = {"gap": least, "own": own, "ramps": ramps, "moment": moment}
        return {name: numpy.where(sure, value, numpy.nan) for name, value in found.items()}

    def gaps(self, x, height, pitch):
        least = numpy.full(x.shape, numpy.inf)
        c, s = numpy.cos(pitch)[:, None], numpy.sin(pitch)[:, None]
        for chain in self.machine.chains:
            du, dz = chain[:, 0] - self.machine.cg_u, chain[:, 1] - self.machine.cg_height
            px, pz = x[:, None] + du * c - dz * s, height[:, None] + du * s + dz * c
            over = numpy.where(px <= self.profile.front, pz - self.profile.at(px), numpy.inf)
            least = numpy.minimum(least, over.min(axis=1))
            # Corners of the profile, by so many points of the underside that lie between its own.
            for (corner, z), one in ((point, at) for point in self.profile.points[1:] for at in range(len(du) - 1)):
                x0, x1, z0, z1 = px[:, one], px[:, one + 1], pz[:, one], pz[:, one + 1]
                within = (numpy.minimum(x0, x1) <= corner) & (corner <= numpy.maximum(x0, x1)) & (x1 != x0)
                part = (corner - x0) / numpy.where(x1 != x0, x1 - x0, 1.0)
                least = numpy.minimum(least, numpy.where(within, z0 + part * (z1 - z0) - z, numpy.inf))
        return least

    def ends(self, datum):
        machine, profile = self.machine, self.profile
        foremost = max(machine.contact, *(chain[-1, 0] for chain in machine.chains))
        start = profile.foot - 0.01 - (foremost - machine.cg_u)
        return start, profile.turned(datum + machine.cg_u, profile.height + machine.cg_height)[0]

    def sweep(self, datum, rig):
        """As of `Climb`, with the datum the lower end of the contact; and the largest drop in degrees."""
        xs, pitches, tips = self.course(*self.ends(datum))
        # Up to the moment of each tip, and from where it then rests.
        for pivot, to, before, after in tips:
            xs, pitches = numpy.append(xs, [pivot - 1e-7, to]), numpy.append(pitches, [before, after])
        order = numpy.argsort(xs)
        xs, pitches = xs[order], pitches[order]
        whole = self.measured(xs, pitches, rig)
        assert not numpy.isnan(whole["gap"]).any()
        result = {}
        for name, sign in (("gap", 1.0), ("own", 1.0), ("ramps", -1.0), ("moment", -1.0)):
            value = sign * whole[name]
            best, at = value.min(), xs[value.argmin()]
            pace = {"gap": 4.0, "own": 4.0 * self.machine.weight}.get(name, 4.0 * self.machine.weight * rig[1])
            lower = numpy.minimum(value[:-1], value[1:])
            chosen = (lower < best + pace * STEP) & (numpy.abs(numpy.diff(value)) > 1e-9 * pace)
            # Not across a tip.
            chosen &= (numpy.diff(xs) <= 1.5 * STEP) & (numpy.diff(xs) > 1e-6) & (numpy.abs(numpy.diff(pitches)) < 0.02)
            chosen &= lower <= numpy.partition(lower, min(60, len(lower) - 1))[min(60, len(lower) - 1)]
            if chosen.any():
                share = numpy.linspace(0.0, 1.0, 41)
                fine = (xs[:-1][chosen, None] + numpy.diff(xs)[chosen, None] * share).ravel()
                lean = (pitches[:-1][chosen, None] + numpy.diff(pitches)[chosen, None] * share).ravel()
                lean = self.rests(fine, lean - 0.01, lean + 0.01)
                # Within a small tip there is no rest near to either side's.
                more = numpy.nan_to_num(sign * self.measured(fine, lean, rig)[name], nan=numpy.inf)
                if more.min() < best:
                    best, at = more.min(), fine[more.argmin()]
            result[name] = (sign * float(best), float(at))
        result["drop"] = max([math.degrees(before - after) for *_, before, after in tips], default=0.0)
        return result
