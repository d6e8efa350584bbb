"""Nodes of every cycle map, calculated with another property library than the maps.

Independent of the maps' own program: only a general fluid-property library (CoolProp, from PyPI), numpy, and the equations in
docs/CYCLE_MAPS.md. Writes cycle_nodes.csv beside itself:  python cycle_nodes.py     (some minutes on one core)
"""

import math
import os

import CoolProp
import numpy as np
from CoolProp.CoolProp import AbstractState

ZERO_C = 273.15
SHELL_LOSS, FAN = 0.10, 0.025
ROOM_AIR = [-2, 2, 6, 10, 15, 25]
WATER_IN = [5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55]
RISE = [5, 10, 20, 30, 45, 60]
LEAST_LIFT_DK = 10.0

TRANSCRITICAL = (lambda r: 1.003 - 0.121 * r, 0.90, 1.3)
SUBCRITICAL = (lambda r: 0.874 - 0.0135 * r, 0.80, 1.1)
FLUIDS = {"R744": "CarbonDioxide", "R134a": "R134a", "R290": "Propane", "R1234yf": "R1234yf", "R32": "R32", "R410A": "R410A"}
HIGHEST_BAR = {"R134a": 25.0, "R290": 31.0, "R1234yf": 25.0, "R32": 45.0, "R410A": 45.0}
PLATE, TANK_COIL = (4.0, 7.0), (12.0, 10.0)

# file: refrigerant, highest bar, pinch and approach, subcooling cap, suction exchanger
MAPS = {
    "R744": ("R744", 130.0, PLATE, None, False),
    "R744-suction-exchanger": ("R744", 130.0, PLATE, None, True),
    "R744-110bar": ("R744", 110.0, PLATE, None, False),
}
for _name, _bar in HIGHEST_BAR.items():
    MAPS[_name] = (_name, _bar, PLATE, 5.0, False)
    MAPS[_name + "-deep"] = (_name, _bar, PLATE, None, False)
    MAPS[_name + "-tank-coil"] = (_name, _bar, TANK_COIL, 5.0, False)


class Isobar:
    """Temperature, enthalpy and entropy along a pressure, from 8 to 230 °C."""

    def __init__(self, state, bar, critical_bar):
        self.bar, self.bubble = bar, None
        pascal = bar * 1e5
        rows = []

        def add(kelvin):
            state.update(CoolProp.PT_INPUTS, pascal, kelvin)
            rows.append((kelvin, state.hmass(), state.smass()))

        if bar < critical_bar:
            state.update(CoolProp.PQ_INPUTS, pascal, 0.0)
            boiling = (state.T(), state.hmass(), state.smass())
            state.update(CoolProp.PQ_INPUTS, pascal, 1.0)
            dew = (state.T(), state.hmass(), state.smass())
            self.bubble = boiling[0]
            state.specify_phase(CoolProp.iphase_liquid)
            for kelvin in np.linspace(ZERO_C + 8.0, boiling[0] - 1e-3, 60):
                add(kelvin)
            state.specify_phase(CoolProp.iphase_gas)
            rows += [boiling, dew]
            for kelvin in np.concatenate([np.linspace(dew[0] + 1e-3, dew[0] + 20, 40), np.arange(dew[0] + 21, ZERO_C + 230, 1.0)]):
                add(kelvin)
            state.unspecify_phase()
        else:
            for celsius in np.concatenate([np.arange(8, 25, 0.5), np.arange(25, 60, 0.15), np.arange(60, 230, 1.0)]):
                add(ZERO_C + celsius)
        table = np.array(rows)
        self.t, self.h, self.s = table[:, 0], table[:, 1], table[:, 2]


class Fluid:
    """A refrigerant with isobars in steps of 0.15 %."""

    def __init__(self, name, highest_bar):
        self.state = AbstractState("HEOS", FLUIDS[name])
        self.law = TRANSCRITICAL if name == "R744" else SUBCRITICAL
        critical_bar = self.state.p_critical() / 1e5
        self.state.update(CoolProp.QT_INPUTS, 1.0, ZERO_C + 9.0)
        lowest = self.state.p() / 1e5
        count = int(math.log(highest_bar / lowest) / math.log(1.0015))
        bars = [highest_bar / 1.0015**step for step in range(count, -1, -1)]
        # Just below the critical pressure the library's saturation states are uncertain.
        bars = [bar for bar in bars if not 0.9995 < bar / critical_bar < 1.0]
        self.isobars = [Isobar(self.state, bar, critical_bar) for bar in bars]

    def suction(self, evaporating_k, superheat):
        self.state.update(CoolProp.QT_INPUTS, 1.0, evaporating_k)
        bar = self.state.p() / 1e5
        self.state.update(CoolProp.PT_INPUTS, bar * 1e5, evaporating_k + superheat)
        return bar, self.state.hmass(), self.state.smass(), self.state.rhomass()


def most_heat(isobar, hot, water_in, water_out, pinch):
    """Largest heat that leaves the pinch everywhere: q <= x glide/need for every x up to q."""
    if np.interp(hot, isobar.h, isobar.t) < water_out + pinch:
        return None
    below = np.searchsorted(isobar.h, hot)
    x = hot - isobar.h[:below][::-1]
    need = water_out + pinch - isobar.t[:below][::-1]
    allowed = np.full_like(x, np.inf)
    warm = need > 0
    allowed[warm] = x[warm] * (water_out - water_in) / need[warm]
    most = np.minimum.accumulate(allowed)
    over = np.nonzero(most < x)[0]
    if len(over) == 0:
        return x[-1]
    last = over[0]
    if last == 0 or most[last - 1] <= allowed[last]:
        return min(most[last], x[last])
    if not np.isfinite(allowed[last - 1]):
        return x[last - 1]
    slope = (allowed[last] - allowed[last - 1]) / (x[last] - x[last - 1])
    crossing = (allowed[last - 1] - slope * x[last - 1]) / (1.0 - slope)
    return min(most[last - 1], max(x[last - 1], crossing))


class Machine:
    def __init__(self, fluid, exchanger, subcooling, suction_exchanger):
        self.fluid, self.subcooling, self.suction_exchanger = fluid, subcooling, suction_exchanger
        self.pinch, self.approach = exchanger
        self.rooms = {}

    def room(self, air):
        if air not in self.rooms:
            evaporating = air + ZERO_C - self.approach
            superheats = np.arange(2.0, 44.0, 1.0) if self.suction_exchanger else np.array([5.0])
            states = [self.fluid.suction(evaporating, superheat) for superheat in superheats]
            bar = states[0][0]
            usable = [isobar for isobar in self.fluid.isobars if isobar.bar > 1.25 * bar]
            self.rooms[air] = (evaporating, superheats, np.array(states), usable)
        return self.rooms[air]

    def at(self, isobar, air, water_in, water_out):
        evaporating, superheats, states, _ = self.room(air)
        eta, motor, exponent = self.fluid.law
        ratio = isobar.bar / states[0][0]
        superheat = 10.0 if self.suction_exchanger else 5.0
        for _ in range(60):
            h1, s1, density = (np.interp(superheat, superheats, states[:, column]) for column in (1, 2, 3))
            work = (np.interp(s1, isobar.s, isobar.h) - h1) / (eta(ratio) * motor)
            if work <= 0:
                return None
            hot = h1 + (1.0 - SHELL_LOSS) * work
            if hot >= isobar.h[-1]:
                return None
            heat = most_heat(isobar, hot, water_in, water_out, self.pinch)
            if heat is None:
                return None
            if self.subcooling is not None and isobar.bubble is not None:
                heat = min(heat, hot - np.interp(isobar.bubble - self.subcooling, isobar.t, isobar.h))
            if not self.suction_exchanger:
                break
            liquid = np.interp(hot - heat, isobar.h, isobar.t)
            warmed = 2.0 + 0.5 * max(liquid - (evaporating + 2.0), 0.0)
            if abs(warmed - superheat) < 1e-3:
                break
            superheat = warmed
        evaporator = heat - (hot - h1)
        if heat <= 0 or evaporator <= 0:
            return None
        swept = 0.97 * (1.0 - 0.04 * (ratio ** (1.0 / exponent) - 1.0)) * density * heat
        return heat / (work + FAN * evaporator), swept

    def best(self, air, water_in, water_out):
        """COP, heat for each swept cubic metre, and whether the highest pressure is the best."""
        usable = self.room(air)[3]
        found = {}

        def look(index):
            if index not in found:
                found[index] = self.at(usable[index], air, water_in + ZERO_C, water_out + ZERO_C)
            return found[index]

        coarse = list(range(0, len(usable), 12)) + [len(usable) - 1]
        reached = [index for index in coarse if look(index)]
        if not reached:
            return None
        top = max(reached, key=lambda index: found[index][0])
        near = range(max(top - 12, 0), min(top + 13, len(usable)))
        top = max((index for index in near if look(index)), key=lambda index: found[index][0])
        return found[top] + (top == len(usable) - 1,)


def lift(air, water_in, water_out):
    cold, warm = water_in + ZERO_C, water_out + ZERO_C
    return (warm - cold) / math.log(warm / cold) - air - ZERO_C


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    fluids = {}
    with open(os.path.join(here, "cycle_nodes.csv"), "w", newline="\n") as out:
        out.write("map,room_air_degc,water_in_degc,water_rise_k,cop,capacity,at_highest_pressure\n")
        for name, (refrigerant, bar, exchanger, subcooling, suction_exchanger) in MAPS.items():
            if (refrigerant, bar) not in fluids:
                fluids[refrigerant, bar] = Fluid(refrigerant, bar)
            machine = Machine(fluids[refrigerant, bar], exchanger, subcooling, suction_exchanger)
            reference = machine.best(4, 10, 55)[1]
            for air in ROOM_AIR:
                for water_in in WATER_IN:
                    for rise in RISE:
                        if lift(air, water_in, water_in + rise) < LEAST_LIFT_DK:
                            continue
                        found = machine.best(air, water_in, water_in + rise)
                        text = "," * 2 if found is None else f"{found[0]:.4f},{found[1] / reference:.4f},{int(found[2])}"
                        out.write(f"{name},{air},{water_in},{rise},{text}\n")
            out.flush()


if __name__ == "__main__":
    main()
