"""Where a formula came from: parents named by what they hold, checked against Python's own SHA-256 and JSON."""

import hashlib
import json

import pytest

import tenside as td

CATALOGUE = td.Catalogue.starter()
BRIEF = (
    td.Brief("Harbour bar", CATALOGUE, prices={"sci-powder": "6.99", "kaolin": "1.90"}, currency="EUR")
    .between("sci-powder", 50, 60)
    .fix("rosemary-oil", "0.35")
    .qs("kaolin")
)
PLANNED = BRIEF.maximise(td.measure.active_matter).solve().formula.with_parent(BRIEF, "answer")


def own_hash(text: str) -> str:
    canonical = json.dumps(json.loads(text), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()


@pytest.mark.parametrize(
    "document", [BRIEF, PLANNED, PLANNED.with_title("Hafen-Stück № 1"), td.Formula("Clay", {"kaolin": 100}, CATALOGUE)]
)
def test_the_hash_can_be_worked_out_by_anybody(document):
    assert document.sha256 == own_hash(document.to_json())


def test_a_formula_keeps_its_parent_through_documents():
    for again in (
        td.Formula.from_toml(PLANNED.to_toml()),
        td.Formula.from_json(PLANNED.to_json(materials=False), CATALOGUE),
        td.read(PLANNED.to_json()),
    ):
        assert again == PLANNED and again.parent == PLANNED.parent and again.sha256 == PLANNED.sha256
    assert PLANNED.parent.sha256 == BRIEF.sha256


def test_a_chain_is_given_parents_first_whatever_the_order():
    batch = PLANNED.batch(mass="1 kg", readability="1 g")
    made = batch.as_made({"sci-powder": "612 g"}).formula.with_parent(PLANNED, "as-made")
    variant = PLANNED.with_title("Harbour bar 2").with_parent(PLANNED, "variant")
    for documents in (
        [variant, made, PLANNED, BRIEF],
        [BRIEF, PLANNED, made, variant, made],
        (document for document in (made, BRIEF, variant, PLANNED)),
    ):
        entries = td.formula.history(documents)
        assert [entry.title for entry in entries][:2] == ["Harbour bar", "Harbour bar"]
        assert [entry.generation for entry in entries] == [0, 1, 2, 2]
        assert {entry.parent_title for entry in entries} == {None, "Harbour bar"}
        assert {(entry.relation, entry.parent) for entry in entries[2:]} == {
            ("as-made", PLANNED.sha256),
            ("variant", PLANNED.sha256),
        }


def test_a_parent_that_is_not_there_is_said_not_to_be():
    [entry] = td.formula.history([PLANNED])
    assert entry.parent == BRIEF.sha256 and entry.parent_title is None and entry.generation == 0


def test_a_parent_changed_later_is_no_longer_it():
    [first, second] = td.formula.history([BRIEF.fix("panthenol", 1), PLANNED])
    assert first.relation is None and second.parent_title is None


def test_relations_that_do_not_fit_are_refused():
    with pytest.raises(td.errors.TensideError, match="allowed: answer"):
        PLANNED.with_parent(BRIEF, "variant")
    with pytest.raises(td.errors.TensideError, match="allowed: variant or as-made"):
        PLANNED.with_parent(PLANNED, "answer")
    with pytest.raises(td.errors.TensideError, match="relation"):
        PLANNED.with_parent(PLANNED, "child")
    with pytest.raises(TypeError):
        PLANNED.with_parent("the one before", "variant")


@pytest.mark.parametrize(
    "parent",
    [
        {"relation": "variant", "sha256": "ab"},
        {"relation": "variant", "sha256": "AB" * 32},
        {"relation": "variant"},
        {"sha256": "ab" * 32},
        "ab" * 32,
        {"relation": "kin", "sha256": "ab" * 32},
    ],
)
def test_a_parent_edited_by_hand_is_refused_with_its_place(parent):
    document = json.loads(PLANNED.to_json())
    document["parent"] = parent
    with pytest.raises(td.errors.TensideError, match="parent"):
        td.Formula.from_json(json.dumps(document))
