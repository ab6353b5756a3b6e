"""A small set of tables, invented for the tests: four causes, seven observations."""

import pytest

from flueproof.faults.inference.engine import Engine
from flueproof.faults.knowledge.reader import knowledge_from

CAUSES = """
[seal]
what = "The seal of the trap is rolled."
where = "trap"
mend = "field"
minutes = 5
risk = "hides-co"
how = "Reseat it."
weight = 60
source = "invented"
[tired]
what = "The CO cell is tired."
where = "cell"
mend = "bench"
service = "co-cell"
minutes = 30
money = 120
parts = ["CO cell"]
risk = "hides-co"
how = "Replace it."
weight = 40
needs = ["co"]
ages = "co"
source = "invented"
[room]
what = "Zeroed in a room with CO."
where = "air"
mend = "explain"
minutes = 5
risk = "hides-co"
how = "Zero outdoors."
weight = 50
season = "heating"
source = "invented"
[pump]
what = "The pump is worn."
where = "pump"
mend = "bench"
service = "pump"
minutes = 45
money = 80
parts = ["pump"]
risk = "none"
how = "Replace it."
weight = 20
source = "invented"
"""
OBSERVATIONS = """
[co-low]
kind = "complaint"
text = "CO reads low"
usual = 0.05
under = { tired = 0.7, room = 0.5, seal = 0.1 }
phrases = ["co reads low", "co too low against another"]
source = "invented"
[o2-high]
kind = "complaint"
text = "O2 reads high"
usual = 0.04
under = { seal = 0.8, pump = 0.2 }
phrases = ["o2 reads high", "too much oxygen"]
source = "invented"
[stalls]
kind = "question"
text = "Does the pump stall with the tip closed?"
why = "A tight path stalls it."
answers = ["stalls", "slows", "runs-on"]
usual = [0.85, 0.1, 0.05]
under = { seal = [0.05, 0.25, 0.7], pump = [0.5, 0.4, 0.1] }
minutes = 1
known_by = 0.9
look = "tight"
source = "invented"
[bulb]
kind = "field-check"
text = "Squeeze a bulb at the tip: does it stay flat?"
why = "The same by other means."
how = "Squeeze and wait ten seconds."
usual = 0.93
under = { seal = 0.1 }
minutes = 3
look = "tight"
source = "invented"
[zeroed-indoors]
kind = "question"
text = "Was it switched on indoors?"
why = "It takes its zero there."
usual = 0.3
under = { room = 0.9 }
minutes = 1
source = "invented"
[gain]
kind = "bench"
text = "Gain of the CO cell"
usual = { mean = 1.0, sd = 0.03 }
under = { tired = { low = 0.4, high = 0.85 } }
minutes = 10
needs = ["co"]
source = "invented"
[gain.number]
unit = "1"
low = 0.0
high = 2.0
u = 0.02
[taste]
kind = "field-check"
text = "Open the cell and look"
why = "Never."
how = "Never."
usual = 0.5
under = { tired = 0.999, pump = 0.001, room = 0.001, seal = 0.001 }
safety = "destructive"
source = "invented"
"""
PRIORS = """
none = 30
none_routine = 400
pair_share = 0.08
overlap = 0.5
inside_season = 1.4
outside_season = 0.6
together = [["tired", "seal", 2.0]]
source = "invented"
[ageing]
co = [[0, 0.3], [2, 1.0], [4, 3.0]]
"""
FILES = {"causes.toml": CAUSES, "observations.toml": OBSERVATIONS, "priors.toml": PRIORS}


@pytest.fixture(scope="session")
def files():
    return dict(FILES)


@pytest.fixture(scope="session")
def knowledge():
    return knowledge_from(FILES)


@pytest.fixture(scope="session")
def engine(knowledge):
    return Engine(knowledge)
