"""The same chemistry for PHREEQC (PyPI: phreeqc): Davies activity coefficients for every ion, 1 for neutral forms, no pairs, no solids.

Constants are worked out here from the pKa values and ionisation enthalpies, not by the library. The Davies constant and the activity of water
are PHREEQC's own.
"""

import math

import phreeqc

IONS = {"Na": 1, "K": 1, "Ca": 2, "Mg": 2, "Cl": -1}


def charged(name, charge):
    return name if charge == 0 else f"{name}{charge:+d}"


def constants(acid, temperature):
    """The pKa values at a temperature, by van 't Hoff."""
    slope = 1000 / (8.314462618 * math.log(10)) * (1 / (temperature + 273.15) - 1 / 298.15)
    enthalpies = acid.enthalpy or [0.0] * len(acid.pka)
    return [pka + enthalpy * slope for pka, enthalpy in zip(acid.pka, enthalpies)]


def species(equation, log_k, charge):
    neutral = "\n -gamma 0 0" if charge == 0 else ""
    return f"{equation}\n log_k {log_k!r}{neutral}\n"


def database(acids, temperature, pkw, pairs=()):
    """A database of these acids, each named A0, A1, ... in their order, and of the ions."""
    names = [f"A{chr(ord('a') + index)}" for index in range(len(acids))]
    masters = [
        "H H+ -1 H 1.008",
        "H(0) H2 0 H",
        "H(1) H+ -1 H",
        "E e- 0 0 0",
        "O H2O 0 O 16",
        "O(0) O2 0 O",
        "O(-2) H2O 0 O",
    ]
    forms = [species("H+ = H+", 0.0, 1), species("e- = e-", 0.0, 1), species("H2O = H2O", 0.0, 1)]
    forms += [
        species("H2O = OH- + H+", -pkw, -1),
        species("2 H2O = O2 + 4 H+ + 4 e-", -86.08, 0),
        species("2 H+ + 2 e- = H2", -3.15, 0),
    ]
    for name, charge in IONS.items():
        masters.append(f"{name} {charged(name, charge)} 0 {name} 20")
        forms.append(species(f"{charged(name, charge)} = {charged(name, charge)}", 0.0, charge))
    for name, acid in zip(names, acids):
        bare = acid.charges[-1]
        masters.append(f"{name} {charged(name, bare)} 0 {name} 100")
        forms.append(species(f"{charged(name, bare)} = {charged(name, bare)}", 0.0, bare))
        log_k = 0.0
        for count, pka in enumerate(reversed(constants(acid, temperature)), start=1):
            log_k += pka
            hydrogen = "H" if count == 1 else f"H{count}"
            forms.append(
                species(
                    f"{charged(name, bare)} + {count} H+ = {charged(hydrogen + name, bare + count)}",
                    log_k,
                    bare + count,
                )
            )
    forms += pairs
    return "SOLUTION_MASTER_SPECIES\n" + "\n".join(masters) + "\nSOLUTION_SPECIES\n" + "".join(forms) + "END\n", names


def text_of(names, temperature, mixtures):
    """Input for mixtures of these acids: totals of the acids in order, totals of ions by name, and a pH to begin from."""
    text = "KNOBS\n -convergence_tolerance 1e-12\nSELECTED_OUTPUT\n -reset false\n -pH true\n -ionic_strength true\n -high_precision true\n"
    for number, (totals, ions, begin) in enumerate(mixtures, start=1):
        text += f"SOLUTION {number}\n temp {temperature}\n units mol/kgw\n pH {begin} charge\n"
        text += "".join(f" {name} {total!r}\n" for name, total in [*zip(names, totals), *ions.items()] if total)
    return text + "END\n"


class Model:
    """PHREEQC loaded with some acids at one temperature."""

    def __init__(self, acids, temperature, pkw, pairs=()):
        self.temperature = temperature
        self.engine = phreeqc.Phreeqc()
        text, self.names = database(acids, temperature, pkw, pairs)
        assert self.engine.LoadDatabaseString(text) == 0, self.engine.GetErrorString()

    def solve(self, mixtures):
        """The pH of each, and the ionic strength."""
        assert self.engine.RunString(text_of(self.names, self.temperature, mixtures)) == 0, self.engine.GetErrorString()
        out = self.engine.GetSelectedOutput()
        found = {name.lower(): values for name, values in out.items()}
        return list(zip(found["ph"], found["mu"], strict=True))
