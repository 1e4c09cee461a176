"""A tracked machine driven up a ramp, by brute force with numpy: a flat base that rests on the profile.

Frame and profile are those of `climb_sweep.py`. With the lower end of its base over a given place, the machine is tried at
many pitches, let down at each until it touches. What touches ahead of the vertical through the centre of gravity lets the
nose go up, what touches behind it lets it come down; it rests where both hold it. Going forward, it stays with its own rest
for as long as there is one near. Where that ends, the machine tips about the point that it touches, until it rests again.
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

    def over(self, x, pitch):
        """What the centre of gravity is over, with the lower end of the base over x."""
        return x + self.machine.cg_u * numpy.cos(pitch) - self.machine.cg_height * numpy.sin(pitch)

    def touching(self, x, pitch):
        """With the lower end of the base over x, at this pitch: its height, and how far each point that could touch (the
        ends of the base, corners of the profile) is above the profile, in rows with the place of each."""
        profile, end = self.profile, x + self.machine.contact * numpy.cos(pitch)
        places = [x + 0.0 * pitch, end]
        heights = [profile.at(x) + 0.0 * pitch, profile.at(end) - self.machine.contact * numpy.sin(pitch)]
        for px, pz in profile.points[1:]:
            places.append(numpy.broadcast_to(px, numpy.shape(end)))
            under = (px >= x) & (px <= end)
            heights.append(numpy.where(under, pz - (px - x) * numpy.tan(pitch), -numpy.inf))
        heights = numpy.array(heights)
        height = heights.max(axis=0)
        return height, height - heights, numpy.array(places)

    def held_ahead(self, x, pitch):
        """Whether it touches ahead of the vertical through its centre of gravity."""
        _, above, places = self.touching(x, pitch)
        touched = numpy.take_along_axis(places, above.argmin(axis=0)[None], axis=0)[0]
        return touched > self.over(x, pitch)

    def rests(self, x, low, high):
        """The pitch between these at which it rests, for each x: nose up while it is held ahead only."""
        for _ in range(34):
            middle = (low + high) / 2
            ahead = self.held_ahead(x, middle)
            low, high = numpy.where(ahead, middle, low), numpy.where(ahead, high, middle)
        return (low + high) / 2

    def course(self, start, end):
        """Stretches of places of the lower end with the pitch there, one from each tip to the next, and for each tip (place
        before, place after, pitch before, pitch after)."""
        first = numpy.linspace(start, end, math.ceil((end - start) / STEP) + 1)
        ahead = self.held_ahead(first[:, None], PITCHES[None, :])
        step, at, one = PITCHES[1] - PITCHES[0], int(numpy.abs(PITCHES).argmin()), 0
        stretches, tips, xs, pitches = [], [], [], []
        while one < len(first):
            before, row = at, ahead[one]
            while not row[at]:
                at -= 1
            while row[at]:
                at += 1
            if xs and before - at > 3:
                tips.append(self.tip(xs[-1], pitches[-1], PITCHES[at]))
                stretches.append((xs, pitches))
                xs, pitches = [], []
                one = int(numpy.searchsorted(first, tips[-1][1]))
                continue
            xs.append(first[one])
            pitches.append(PITCHES[at])
            one += 1
        made = []
        for xs, pitches in [*stretches, (xs, pitches)]:
            xs, pitches = numpy.array(xs), numpy.array(pitches)
            made.append([xs, self.rests(xs, pitches - step, pitches)])
        # Up to the moment of each tip, and from where it then rests.
        for number, (from_x, to_x, before, after) in enumerate(tips):
            made[number] = [numpy.append(made[number][0], from_x), numpy.append(made[number][1], before)]
            made[number + 1] = [numpy.append(to_x, made[number + 1][0]), numpy.append(after, made[number + 1][1])]
        return made, tips

    def tip(self, last, pitch, after):
        """The tip that comes soon after this place."""
        step = PITCHES[1] - PITCHES[0]
        near = lambda x, low, high: float(self.rests(numpy.array([x]), numpy.array([low]), numpy.array([high]))[0])
        # Close to the tip the rest is narrow, so that it is followed in ever smaller steps until there is none.
        before, stride = near(last, pitch - step, pitch), STEP / 8
        while stride > 1e-9:
            width = 5.0 * stride + 1e-10
            lean = near(last + stride, before - width, before + width)
            if abs(lean - before) > 0.999 * width:
                stride /= 4
            else:
                last, before = last + stride, lean
        corners = self.profile.points[1:, 0]
        pivot = float(corners[numpy.abs(corners - self.over(last, before)).argmin()])
        assert abs(pivot - self.over(last, before)) < 1e-5, (pivot, self.over(last, before))
        along = (pivot - last) / math.cos(before)
        for _ in range(12):
            to = pivot - along * math.cos(after)
            after = near(to, after - 0.01, after + 0.01)
        return last, to, before, after

    def measured(self, x, pitch, rig):
        machine, profile = self.machine, self.profile
        height, above, places = self.touching(x, pitch)
        least = self.gaps(x, height, pitch)
        over = self.over(x, pitch)
        touched = above < 1e-6 + TIE
        low = numpy.where(touched & (places <= over + 1e-7), places, -numpy.inf)
        high = numpy.where(touched & (places >= over - 1e-7), places, numpy.inf)
        low_at, high_at = low.max(axis=0), high.min(axis=0)
        sure = numpy.isfinite(low_at) & numpy.isfinite(high_at)
        low_at, high_at = numpy.where(sure, low_at, over), numpy.where(sure, high_at, over)
        share = (over - low_at) / numpy.maximum(high_at - low_at, 1e-12)
        on_high = machine.weight * numpy.where(high_at - low_at > 1e-9, share, 1.0)
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
            du, dz = chain[:, 0], chain[:, 1]
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
        return profile.foot - 0.01 - foremost, profile.turned(datum, profile.height)[0]

    def sweep(self, datum, rig):
        """As of `Climb`, with the datum the lower end of the contact; and the largest drop in degrees."""
        stretches, tips = self.course(*self.ends(datum))
        found = [self.measured(xs, pitches, rig) for xs, pitches in stretches]
        assert not any(numpy.isnan(one["gap"]).any() for one in found)
        result = {}
        for name, sign in (("gap", 1.0), ("own", 1.0), ("ramps", -1.0), ("moment", -1.0)):
            best = min((sign * one[name]).min() for one in found)
            pace = {"gap": 4.0, "own": 4.0 * self.machine.weight}.get(name, 4.0 * self.machine.weight * rig[1])
            for (xs, pitches), one in zip(stretches, found):
                value = sign * one[name]
                lower = numpy.minimum(value[:-1], value[1:])
                chosen = (lower < best + pace * STEP) & (numpy.abs(numpy.diff(value)) > 1e-9 * pace)
                chosen &= lower <= numpy.sort(lower)[: min(60, len(lower))].max(initial=-numpy.inf)
                if not chosen.any():
                    continue
                share = numpy.linspace(0.0, 1.0, 41)
                fine = (xs[:-1][chosen, None] + numpy.diff(xs)[chosen, None] * share).ravel()
                lean = (pitches[:-1][chosen, None] + numpy.diff(pitches)[chosen, None] * share).ravel()
                lean = self.rests(fine, lean - 0.003, lean + 0.003)
                # Within a small tip there is no rest near to either side's.
                best = min(best, numpy.nan_to_num(sign * self.measured(fine, lean, rig)[name], nan=numpy.inf).min())
            result[name] = (sign * float(best),)
        result["drop"] = max([math.degrees(before - after) for _, _, before, after in tips], default=0.0)
        return result
