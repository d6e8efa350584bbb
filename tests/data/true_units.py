"""Points of units that differ from what the cycle maps assume: what a data sheet of such a unit would say.

Only a general fluid-property library (CoolProp, from PyPI) and the equations in cycle_points.py, with other parameters.
Writes true_units.csv beside itself:  python true_units.py     (some ten minutes on one core)

Each unit gives 4500 W at room air 7 degC, water 10 to 60 degC. Anchoring the map of `cycle` at a few of its points is tried against
all the others.
"""

import csv
import os

import CoolProp

import cycle_points
from cycle_points import FAN, SHELL_LOSS, ZERO_C, Cycle, FLUIDS


def flat_law(ratio):
    """Isentropic efficiency that falls less with the pressure ratio than that of the map."""
    return 0.815 + 0.022 * ratio - 0.0041 * ratio**2 + 0.0001 * ratio**3


# Unit: cycle of the map it is anchored on, fluid, what differs.
UNITS = {
    "R744 with a poor coil and gas cooler": ("R744", "R744", {"weaker": 0.85, "pinch": 8.0, "coil": 10.0}),
    "R744 with a suction exchanger": ("R744", "R744", {"exchanger": 0.5}),
    "R744 with another compressor": ("R744", "R744", {"law": flat_law, "motor": 0.74}),
    "R744 capped at 110 bar": ("R744", "R744", {"most_bar": 110.0}),
    "R134a with a poor coil and condenser": ("R134a", "R134a", {"weaker": 0.85, "pinch": 8.0, "coil": 10.0}),
    "R290 with deep subcooling": ("R290", "R290", {"subcooling": None}),
    "R32 with a poor coil and condenser": ("R32", "R32", {"weaker": 0.85, "pinch": 8.0, "coil": 10.0}),
}
FLUIDS["R32"] = ("R32", lambda r: 0.874 - 0.0135 * r, 0.80, 1.1, 45.0, 5.0)

# Single pass, then many passes.
ANCHORS = [(7.0, 10.0, 60.0), (7.0, 45.0, 55.0), (20.0, 15.0, 60.0), (20.0, 45.0, 55.0)]
ANCHORS += [(7.0, 10.0, 15.0), (7.0, 50.0, 55.0), (20.0, 10.0, 15.0), (20.0, 50.0, 55.0)]
ROOM_AIR = [0.0, 4.0, 10.0]
INLETS = [5.0, 10.0, 20.0, 30.0, 40.0, 50.0]
OUTLETS = [50.0, 55.0, 60.0, 65.0]
MULTI_PASS_INLETS = [10.0, 20.0, 30.0, 40.0, 50.0]


def conditions():
    """Anchors, then single pass, then many passes of 5 K."""
    single = [(a, i, o) for a in ROOM_AIR for i in INLETS for o in OUTLETS if o >= i + 5.0]
    multi = [(a, i, i + 5.0) for a in ROOM_AIR for i in MULTI_PASS_INLETS if (a, i, i + 5.0) not in single]
    return ANCHORS + single + multi


class Unit(Cycle):
    """One unit at one room air temperature."""

    def __init__(self, fluid, room_degc, differs):
        self.exchanger = differs.get("exchanger")
        cycle_points.COIL_DK = differs.get("coil", 7.0)
        cycle_points.SUPERHEAT_DK = 2.0 if self.exchanger else 5.0
        super().__init__(fluid, room_degc)
        self.evaporator = (self.h1, self.s1, self.rho1)
        self.evaporator_k = room_degc + ZERO_C - cycle_points.COIL_DK + cycle_points.SUPERHEAT_DK
        self.suction_k = self.evaporator_k + 10.0
        self.eta_is = differs.get("law", self.eta_is)
        self.eta_motor = differs.get("motor", self.eta_motor) * differs.get("weaker", 1.0)
        self.most_bar = differs.get("most_bar", self.most_bar)
        self.subcooling = differs.get("subcooling", self.subcooling)
        self.pinch = differs.get("pinch", 4.0)

    def at_pressure(self, bar, t_in, t_out):
        cycle_points.PINCH_DK = self.pinch
        if not self.exchanger:
            return super().at_pressure(bar, t_in, t_out)
        for _ in range(12):
            result = self.with_suction(bar, t_in, t_out, self.suction_k)
            if result is None:
                return None
            wanted = self.evaporator_k + max(0.0, self.exchanger * (result[3] - self.evaporator_k))
            settled = abs(wanted - self.suction_k) < 0.1
            self.suction_k = wanted
            if settled:
                break
        return result[:3]

    def with_suction(self, bar, t_in, t_out, suction_k):
        """COP, heat, pressure ratio and temperature after the gas cooler with the vapour warmed to suction_k."""
        p = bar * 1e5
        self.state.update(CoolProp.PT_INPUTS, self.p1, suction_k)
        h1, s1, self.rho1 = self.state.hmass(), self.state.smass(), self.state.rhomass()
        self.state.update(CoolProp.PSmass_INPUTS, p, s1)
        w = (self.state.hmass() - h1) / (self.eta_is(p / self.p1) * self.eta_motor)
        if w <= 0.0:
            return None
        h2 = h1 + (1.0 - SHELL_LOSS) * w
        self.state.update(CoolProp.HmassP_INPUTS, h2, p)
        q = self.heat(self.profile(p, self.state.T()), h2, t_in, t_out)
        if not q:
            return None
        q_evaporator = q - (h2 - h1)
        if q_evaporator <= 0.0:
            return None
        self.state.update(CoolProp.HmassP_INPUTS, h2 - q, p)
        return q / (w + FAN * q_evaporator), q, p / self.p1, self.state.T()


def main():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "true_units.csv")
    with open(path, "w", encoding="utf-8", newline="\n") as out:
        out.write(f"# made by true_units.py with CoolProp {CoolProp.__version__}, a general fluid-property library;\n")
        out.write("# equations there and in cycle_points.py. Equations of state: Span and Wagner 1996 (R744), Tillner-Roth and\n")
        out.write("# Baehr 1994 (R134a), Lemmon, McLinden and Wagner 2009 (R290), Tillner-Roth and Yokozeki 1997 (R32)\n")
        table = csv.writer(out, lineterminator="\n")
        table.writerow(["unit", "cycle", "room_air_degc", "water_in_degc", "water_out_degc", "cop", "heat_w"])
        for name, (cycle, fluid, differs) in UNITS.items():
            units, nominal = {}, None
            for room, water_in, water_out in conditions():
                if room not in units:
                    units[room] = Unit(fluid, room, differs)
                point = units[room].best(water_in + ZERO_C, water_out + ZERO_C, steps=24, cuts=12)
                if point is None:
                    continue
                nominal = nominal or point[1]
                row = [name, cycle, f"{room:g}", f"{water_in:g}", f"{water_out:g}", f"{point[0]:.4f}",
                       f"{4500.0 * point[1] / nominal:.1f}"]
                table.writerow(row)
            out.flush()
            print(name, flush=True)


if __name__ == "__main__":
    main()
