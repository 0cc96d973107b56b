"""Every example in the documentation of the package runs, those of the compiled half included. In each, `td` is the package."""

import doctest
import importlib
import inspect
import pkgutil

import pytest
import tenside


def modules():
    yield tenside
    for found in pkgutil.walk_packages(tenside.__path__, "tenside."):
        yield importlib.import_module(found.name)


def documented():
    """Every module, class, function and member of a class with an example in its documentation, once."""
    texts = {}
    for module in modules():
        places = {module.__name__: module}
        for name, thing in vars(module).items():
            if not str(getattr(thing, "__module__", None)).startswith("tenside"):
                continue
            places[f"{module.__name__}.{name}"] = thing
            if inspect.isclass(thing):
                places |= {f"{module.__name__}.{name}.{member}": value for member, value in vars(thing).items()}
        for place, value in places.items():
            text = inspect.getdoc(value) or ""
            if ">>>" in text:
                texts.setdefault(text, place)
    return [pytest.param(place, text, id=place) for text, place in texts.items()]


@pytest.mark.parametrize(("place", "text"), documented())
def test_examples_run(place, text):
    example = doctest.DocTestParser().get_doctest(text, {"td": tenside}, place, None, 0)
    report = []
    outcome = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS).run(example, out=report.append)
    assert outcome.failed == 0, "".join(report)
