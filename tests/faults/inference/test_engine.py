"""The engine against plain enumeration written another way, and the properties that any inference must have."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.faults.errors import EvidenceError
from flueproof.faults.inference.engine import Engine
from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.knowledge import Situation, weight_of
from flueproof.faults.knowledge.observation import Choices
from flueproof.faults.knowledge.reader import knowledge_from

SITUATIONS = (
    Situation(),
    Situation(has=frozenset({"o2"})),
    Situation(ages={"co": 5.0}, month=12),
    Situation(has=frozenset({"o2", "co"}), ages={"co": 0.5}, month=7, routine=True),
)


def answers_of_the_small_tables():
    return st.fixed_dictionaries(
        {},
        optional={
            "co-low": st.sampled_from(["yes", "no", None]),
            "o2-high": st.sampled_from(["yes", "no", None]),
            "stalls": st.sampled_from(["stalls", "slows", "runs-on", None]),
            "bulb": st.sampled_from(["yes", "no", None]),
            "zeroed-indoors": st.sampled_from(["yes", "no", None]),
            "gain": st.builds(Number, st.floats(0.1, 1.9), st.floats(0.005, 0.1)) | st.none(),
        },
    )


def choice_by_enumeration(likelihood, at, names):
    """Sum over "acts or not" of each cause and over who is seen where several act."""
    total = 0.0
    shares = {}
    for name in names:
        row = likelihood.under.get(name, likelihood.usual)
        rest = min(a / b for a, b in zip(row, likelihood.usual, strict=True))
        own = [(a - rest * b) / (1 - rest) if rest < 1 else 0.0 for a, b in zip(row, likelihood.usual, strict=True)]
        shares[name] = (1 - rest, own)
    for acting in itertools.product((False, True), repeat=len(names)):
        weight = math.prod(
            shares[name][0] if acts else 1 - shares[name][0] for name, acts in zip(names, acting, strict=True)
        )
        speaking = [shares[name][1][at] for name, acts in zip(names, acting, strict=True) if acts]
        total += weight * (sum(speaking) / len(speaking) if speaking else likelihood.usual[at])
    return total


def number_by_enumeration(likelihood, answer, names):
    """Densities by a normal quadrature over the true value instead of the closed form."""

    def density(spread):
        middle, wide = answer.value, 8 * answer.u
        steps = 4000
        grid = [middle - wide + 2 * wide * (i + 0.5) / steps for i in range(steps)]

        def of_true(value):
            if spread.shape == "uniform":
                return 1 / (spread.second - spread.first) if spread.first <= value <= spread.second else 0.0
            z = (value - spread.first) / spread.second
            return math.exp(-z * z / 2) / (math.sqrt(2 * math.pi) * spread.second)

        def of_reading(value):
            z = (answer.value - value) / answer.u
            return math.exp(-z * z / 2) / (math.sqrt(2 * math.pi) * answer.u)

        inside = sum(of_true(value) * of_reading(value) for value in grid) * 2 * wide / steps
        return (1 - likelihood.odd) * inside + likelihood.odd / (likelihood.high - likelihood.low)

    speaking = [density(likelihood.under[name]) for name in names if name in likelihood.under]
    return sum(speaking) / len(speaking) if speaking else density(likelihood.usual)


def by_enumeration(knowledge, answers, situation):
    """Return probabilities of all hypotheses by plain loops, none of the engine's arrays."""
    weights = {key: weight_of(cause, knowledge.priors, situation) for key, cause in knowledge.causes.items()}
    hypotheses = [(), *((key,) for key in weights), *itertools.combinations(weights, 2)]
    products = {pair: weights[pair[0]] * weights[pair[1]] for pair in hypotheses if len(pair) == 2}
    scale = knowledge.priors.pair_share * sum(weights.values()) / sum(products.values())
    looks = [knowledge.observations[key].look for key, answer in answers.items() if answer is not None]
    none = knowledge.priors.none_routine if situation.routine else knowledge.priors.none
    joint = {}
    for names in hypotheses:
        weight = none if not names else weights.get(names[0], 0.0)
        if len(names) == 2:
            weight = products[names] * scale * knowledge.priors.together.get(tuple(sorted(names)), 1.0)
        for key, answer in answers.items():
            if answer is None:
                continue
            one = knowledge.observations[key]
            if isinstance(one.likelihood, Choices):
                said = choice_by_enumeration(one.likelihood, one.likelihood.answers.index(answer), names)
            else:
                said = number_by_enumeration(one.likelihood, answer, names)
            repeats = looks.count(one.look) - 1 if one.look else 0
            weight *= said ** (1 / (1 + knowledge.priors.overlap * repeats))
        joint[names] = weight
    whole = sum(joint.values())
    return {names: weight / whole for names, weight in joint.items()}


class TestAgainstEnumeration:
    @pytest.mark.parametrize("situation", SITUATIONS)
    @pytest.mark.parametrize(
        "answers",
        [
            {},
            {"co-low": "yes"},
            {"co-low": "yes", "o2-high": "yes", "stalls": "slows"},
            {"stalls": "runs-on", "bulb": "yes", "zeroed-indoors": "no"},
            {"gain": Number(0.83, 0.02), "co-low": "yes", "zeroed-indoors": None},
            {"gain": Number(0.99, 0.04), "stalls": "stalls", "bulb": "no", "o2-high": "no"},
        ],
    )
    def test_every_hypothesis_has_the_probability_of_plain_loops(self, engine, knowledge, answers, situation):
        expected = by_enumeration(knowledge, answers, situation)
        posterior = engine.posterior(answers, situation)
        found = {posterior.hypotheses.names(at): p for at, p in enumerate(posterior.probability)}
        assert found.keys() == expected.keys()
        assert all(found[names] == pytest.approx(share, rel=1e-4, abs=1e-12) for names, share in expected.items())


class TestProperties:
    @given(answers_of_the_small_tables(), st.randoms())
    def test_the_order_of_answers_does_not_matter_at_all(self, engine, answers, chance):
        turned = list(answers.items())
        chance.shuffle(turned)
        here, there = engine.posterior(answers).probability, engine.posterior(dict(turned)).probability
        assert here.tolist() == there.tolist()

    @given(answers_of_the_small_tables())
    def test_an_answer_not_known_changes_nothing(self, engine, answers):
        without = {key: answer for key, answer in answers.items() if answer is not None}
        assert engine.posterior(answers).probability.tolist() == engine.posterior(without).probability.tolist()

    @given(answers_of_the_small_tables())
    def test_probabilities_add_up_to_one(self, engine, answers):
        posterior = engine.posterior(answers)
        assert float(posterior.probability.sum()) == pytest.approx(1.0)
        assert all(0.0 <= one.probability <= 1.0 + 1e-12 for one in posterior.ranking())

    @given(st.sampled_from(["co-low", "o2-high", "stalls", "bulb", "zeroed-indoors"]), answers_of_the_small_tables())
    def test_the_answers_of_one_question_average_to_what_was_known_before(self, engine, knowledge, key, answers):
        before = {k: a for k, a in answers.items() if k != key and knowledge.observations[k].look != "tight"}
        prior = engine.posterior(before)
        mean = 0.0
        for answer in knowledge.observations[key].likelihood.answers:
            after = engine.posterior({**before, key: answer})
            share = math.exp(after.log_evidence - prior.log_evidence)
            mean = mean + share * after.probability
        assert mean == pytest.approx(prior.probability, abs=1e-9)


class TestSituations:
    def test_what_an_analyzer_lacks_is_impossible(self, engine):
        assert engine.posterior({"co-low": "yes"}, Situation(has=frozenset({"o2"}))).of("tired") == 0.0

    def test_an_old_cell_is_suspected_more(self, engine):
        young = engine.posterior({"co-low": "yes"}, Situation(ages={"co": 0.5})).of("tired")
        old = engine.posterior({"co-low": "yes"}, Situation(ages={"co": 5.0})).of("tired")
        assert young < 0.3
        assert old > 0.5

    def test_the_season_counts_for_causes_that_have_one(self, engine):
        assert engine.posterior({}, Situation(month=1)).of("room") > engine.posterior({}, Situation(month=7)).of("room")

    def test_nothing_possible_is_refused(self, files):
        none = dict(files)
        none["priors.toml"] = none["priors.toml"].replace("none = 30\n", "none = 0\n")
        for weight in (60, 40, 50, 20):
            none["causes.toml"] = none["causes.toml"].replace(f"weight = {weight}", "weight = 0")
        with pytest.raises(EvidenceError, match="No cause"):
            Engine(knowledge_from(none)).posterior({})


class TestBadAnswers:
    @pytest.mark.parametrize(
        ("answers", "words"),
        [
            ({"moon": "yes"}, "no observation"),
            ({"co-low": "perhaps"}, "answers are: yes, no"),
            ({"gain": "low"}, "no number"),
            ({"gain": Number(math.nan, 0.1)}, "no measured number"),
            ({"gain": Number(0.9, -0.1)}, "no measured number"),
        ],
    )
    def test_it_is_said_which_answer_is_not_taken(self, engine, answers, words):
        with pytest.raises(EvidenceError, match=words):
            engine.posterior(answers)


class TestNumbers:
    def test_a_sharper_measurement_says_more(self, engine):
        sharp = engine.posterior({"gain": Number(0.84, 0.01)}).of("tired")
        blurred = engine.posterior({"gain": Number(0.84, 0.2)}).of("tired")
        assert sharp > 0.9 > blurred

    def test_at_least_counts_for_all_that_may_lie_beyond(self, engine):
        beyond = engine.posterior({"gain": Number(0.95, 0.01, at_least=True)})
        assert beyond.of("tired") < 0.02

    def test_one_number_alone_never_settles_everything(self, engine):
        assert engine.posterior({"gain": Number(0.2, 0.001)}).of("tired") < 1.0


class TestPairs:
    def test_two_yes_no_causes_give_the_noisy_or(self, engine, knowledge):
        posterior = engine.posterior({"co-low": "yes"})
        place = next(i for i in range(len(posterior.probability)) if posterior.hypotheses.names(i) == ("tired", "room"))
        expected = 1 - (1 - 0.7) * (1 - 0.5) / (1 - 0.05)
        assert math.exp(posterior.logs["co-low"][place]) == pytest.approx(expected)

    def test_two_things_said_that_no_single_cause_explains_are_two_causes(self, engine):
        posterior = engine.posterior({"gain": Number(0.6, 0.01), "stalls": "runs-on", "o2-high": "yes", "bulb": "no"})
        assert set(posterior.best()[0][0]) == {"seal", "tired"}
