"""Answers a brief in JSON, as a service would: the answer with its batch, review and label, or the conflict as data, or every fault.

`python answer_in_json.py < brief.json`
"""

import json
import sys

import tenside as td

STATUS = {
    "syntax": 400,
    "unknown-key": 400,
    "not-a-number": 400,
    "unknown-name": 404,
    "ambiguous-name": 404,
    "not-known": 424,
    "question": 424,
    "unsupported": 501,
}


def respond(text):
    """The status of a response and its body."""
    try:
        answer = td.Brief.from_json(text, td.Catalogue.starter()).solve()
        formula = answer.formula
        batch = formula.batch(bars=24, net="60 g", readability="0.1 g")
        review = formula.review(market="EU", use="shampoo-bar", on="2026-11-24")
        label = formula.label(market="EU", on="2026-11-24", net="60 g")
    except td.errors.Unanswerable as error:
        return 409, error.conflict.to_dict()
    except td.TensideError as error:
        return STATUS.get(error.faults[0].kind, 422), {"faults": [str(fault) for fault in error.faults]}
    return 200, {
        name: part.to_dict()
        for name, part in {"answer": answer, "batch": batch, "review": review, "label": label}.items()
    }


if __name__ == "__main__":
    status, body = respond(sys.stdin.read())
    print(status)
    json.dump(body, sys.stdout, indent=2)
