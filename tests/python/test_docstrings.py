"""Every example in the documentation of the package runs, those of the compiled half included. In each, `td` is the package."""

import ast
import doctest
import importlib
import inspect
import pathlib
import pkgutil
import re

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


def described():
    """Every public callable of the compiled half with its parameters and what its documentation says; a constructor's is its class's."""
    stub = pathlib.Path(tenside.__file__).with_name("_native.pyi").read_text(encoding="utf-8")
    for kind in ast.parse(stub).body:
        for function in kind.body if isinstance(kind, ast.ClassDef) else [kind]:
            if not isinstance(function, ast.FunctionDef) or (
                function.name.startswith("_") and function.name != "__new__"
            ):
                continue
            every = function.args
            names = [
                each.arg for each in (*every.posonlyargs, *every.args, *every.kwonlyargs, *filter(None, [every.vararg]))
            ]
            text = ast.get_docstring(kind if function.name == "__new__" else function) or ""
            place = function.name if function is kind else f"{kind.name}.{function.name}"
            yield pytest.param([name for name in names if name not in ("self", "cls")], text, id=place)


@pytest.mark.parametrize(("parameters", "text"), described())
def test_the_documentation_names_every_parameter(parameters, text):
    assert [name for name in parameters if not re.search(rf"\b{re.escape(name)}\b", text)] == []
