"""The pages of the reference, made of the stub and the Python files: they have the types that the compiled half cannot tell.

Documentation strings are Markdown with examples; a name of the package in backticks becomes a link.
"""

import ast
import itertools
import pathlib
import re
from collections.abc import Iterator

import tenside

from rooms import ROOMS

PACKAGE = pathlib.Path(tenside.__file__).parent
MODULES = {
    "measure": "measures, ready made",
    "words": "closed lists of words",
    "errors": "what is raised",
    "plot": "pictures",
    "cluster": "sweeps over several machines",
    "number": "exact numbers that take formats",
    "explorer": "sliders in a notebook",
    "schema": "JSON Schemas of the documents",
}
# What the stub writes for numbers, counts and sequences that people give, and how it reads better.
SHORTER = [
    ("Formula2", "Formula"),
    ("Response2", "Response"),
    ("SupportsFloat | SupportsIndex", "float"),
    ("SupportsFloat | str", "Number"),
    ("SupportsIndex", "int"),
    ("SupportsGetItem[int, ", "Sequence["),
]


def tree(name: str) -> ast.Module:
    path = PACKAGE / name
    return ast.parse(path.read_text(encoding="utf-8"))


STUB = {each.name: each for each in tree("_native.pyi").body if isinstance(each, ast.ClassDef | ast.FunctionDef)}
ERRORS = {each.name: each for each in tree("errors.py").body if isinstance(each, ast.ClassDef)}
FILES = {each.name: each for each in tree("files.py").body if isinstance(each, ast.FunctionDef)}
WORDS = [each.target.id for each in tree("words.py").body if isinstance(each, ast.AnnAssign)]
EXPLORE = {each.name: each for each in tree("explorer/__init__.py").body if isinstance(each, ast.FunctionDef)}
TRIAL = {
    each.name: each for each in tree("trial.py").body if isinstance(each, ast.ClassDef | ast.FunctionDef) and each.name[0] != "_"
}
KNOWN = {**STUB, **FILES, **ERRORS, **EXPLORE, **TRIAL}
# The module that a name stands in.
PLACES = {
    name: "tenside" if name in tenside.__all__ else f"tenside.{module}"
    for module, *_, names in ROOMS.values()
    for name in names.split()
}
CLASSES = [name for name, node in KNOWN.items() if isinstance(node, ast.ClassDef) and name in PLACES]


def type_of(node: ast.expr | None) -> str:
    """An annotation as it is shown: short, and with the module of what is ours, so that it leads there."""
    if node is None:
        return ""
    text = ast.unparse(node)
    # A type in quotes is the same type.
    text = re.sub(r"'([^']*)'", r"\1", text) if "Literal" not in text else text
    for long, short in SHORTER:
        text = text.replace(long, short)
    # Batches have a `date` too, so the type says whose it is.
    text = re.sub(r"(?<![\w.])date\b", "datetime.date", text)
    text = re.sub(rf"(?<![\w.])({'|'.join(WORDS)})\b", r"tenside.words.\1", text)
    return re.sub(rf"(?<![\w.])({'|'.join(CLASSES)})\b", lambda found: f"{PLACES[found[1]]}.{found[1]}", text)


def signature(function: ast.FunctionDef, skip: int) -> str:
    """Parameters and result, without what Python itself passes."""
    given = function.args
    plain = [*given.posonlyargs, *given.args]
    defaults = [None] * (len(plain) - len(given.defaults)) + list(given.defaults)
    parts = [parameter(name, default) for name, default in zip(plain[skip:], defaults[skip:])]
    if given.vararg:
        parts.append(f"*{parameter(given.vararg, None)}")
    elif given.kwonlyargs:
        parts.append("*")
    parts += [parameter(name, default) for name, default in zip(given.kwonlyargs, given.kw_defaults)]
    if given.kwarg:
        parts.append(f"**{parameter(given.kwarg, None)}")
    result = type_of(function.returns)
    return f"({', '.join(parts)})" + (f" -> {result}" if result else "")


def parameter(name: ast.arg, default: ast.expr | None) -> str:
    shown = f"{name.arg}: {type_of(name.annotation)}" if name.annotation else name.arg
    return shown if default is None else f"{shown} = {ast.unparse(default)}"


def prose(text: str | None) -> str:
    """A documentation string as a page has it: examples fenced, names of the package as links."""
    lines, example = [], False
    for line in (text or "").splitlines():
        if line.startswith(">>>") and not example:
            lines += ["```pycon", line]
            example = True
        elif example and not line.strip():
            lines += ["```", ""]
            example = False
        else:
            lines.append(line)
    if example:
        lines.append("```")
    parts = re.split(r"(```pycon.*?```)", "\n".join(lines), flags=re.DOTALL)
    return "".join(
        part if part.startswith("```pycon") else re.sub(r"`([A-Z]\w+)(?:\.(\w+))?`", link, part) for part in parts
    )


def link(found: re.Match) -> str:
    kind, member = found.groups()
    node = KNOWN.get(kind)
    if not isinstance(node, ast.ClassDef) or kind not in PLACES:
        return found[0]
    if member is None:
        return f"{{py:class}}`~{PLACES[kind]}.{kind}`"
    named = next((each for each in node.body if getattr(each, "name", None) == member), None)
    return (
        found[0]
        if named is None
        else f"{{py:{'attr' if is_property(named) else 'meth'}}}`{kind}.{member} <{PLACES[kind]}.{kind}.{member}>`"
    )


def is_property(function: ast.FunctionDef) -> bool:
    return any(ast.unparse(each) == "property" for each in function.decorator_list)


def directive(kind: str, head: str, body: str, depth: int, options: str = "") -> str:
    fence = ":" * depth
    return f"{fence}{{py:{kind}}} {head}\n{options}\n{body.strip()}\n{fence}\n"


def of_function(function: ast.FunctionDef) -> str:
    return directive("function", function.name + signature(function, 0), prose(ast.get_docstring(function)), 3)


def of_class(node: ast.ClassDef) -> str:
    made = next((each for each in node.body if getattr(each, "name", None) == "__new__"), None)
    head = node.name + (signature(made, 1).partition(" -> ")[0] if made else "")
    parts = [prose(ast.get_docstring(node))]
    if (
        node.name in ERRORS
        and node.bases
        and (bases := " and ".join(f"`{ast.unparse(each)}`" for each in node.bases))
        and "Generic" not in bases
    ):
        parts.insert(0, f"Caught as {bases} too.")
    parts += [of_member(each) for each in sorted(members(node), key=is_method)]
    parts += [
        directive("attribute", name.id, prose(text), 4, f":type: {type_of(kind)}\n")
        for name, kind, text in documented(node)
        if isinstance(name, ast.Name)
    ]
    return directive("class", head, "\n\n".join(parts), 5)


def members(node: ast.ClassDef) -> Iterator[ast.FunctionDef]:
    seen = set()
    for each in node.body:
        # Of a property that can be set the stub has two, of an overloaded call several.
        if isinstance(each, ast.FunctionDef) and not each.name.startswith("_") and each.name not in seen:
            seen.add(each.name)
            yield each


def is_method(function: ast.FunctionDef) -> bool:
    return not is_property(function)


def of_member(function: ast.FunctionDef) -> str:
    text = prose(ast.get_docstring(function))
    if is_property(function):
        return directive("property", function.name, text, 4, f":type: {type_of(function.returns)}\n")
    is_maker = any(ast.unparse(each) == "classmethod" for each in function.decorator_list)
    return directive("method", function.name + signature(function, 1), text, 4, ":classmethod:\n" if is_maker else "")


def documented(node: ast.Module | ast.ClassDef) -> Iterator[tuple[ast.expr, ast.expr | None, str]]:
    """Assignments with a string under them: the name, its annotation, the string."""
    for each, under in zip(node.body, node.body[1:]):
        if (
            isinstance(each, ast.Assign | ast.AnnAssign)
            and isinstance(under, ast.Expr)
            and isinstance(under.value, ast.Constant)
        ):
            name = each.target if isinstance(each, ast.AnnAssign) else each.targets[0]
            yield name, each.annotation if isinstance(each, ast.AnnAssign) else None, under.value.value


def of_name(name: str) -> str:
    if name in KNOWN:
        node = KNOWN[name]
        return of_class(node) if isinstance(node, ast.ClassDef) else of_function(node)
    package = {target.id: text for target, _, text in documented(tree("__init__.py"))} | {
        "__version__": "The version of the library."
    }
    return directive("data", name, prose(package[name]), 3)


def of_words(module: ast.Module) -> str:
    values = {each.target.id: each.value for each in module.body if isinstance(each, ast.AnnAssign)}
    parts = []
    for target, _, text in documented(module):
        if target.id in values:
            words = ", ".join(
                f'`"{each.value}"`' for each in ast.walk(values[target.id]) if isinstance(each, ast.Constant)
            )
            parts.append(directive("data", target.id, f"{prose(text)}\n\n{words}", 3))
    return "\n".join(parts)


def of_module(name: str) -> str:
    """The page of a Python module: what it says of itself, its constants and its functions."""
    path = f"{name}/__init__.py" if (PACKAGE / name).is_dir() else f"{name}.py"
    module = tree(path)
    whole = [module, *(tree(f"{name}/{each.name}") for each in sorted((PACKAGE / name).glob("_[a-z]*.py")))]
    shown = set(
        next(
            ast.literal_eval(each.value)
            for each in module.body
            if isinstance(each, ast.Assign) and each.targets[0].id == "__all__"
        )
    )
    parts = [
        f"# `tenside.{name}`: {MODULES[name]}",
        f":::{{py:module}} tenside.{name}\n:::",
        prose(ast.get_docstring(module)),
    ]
    if name == "words":
        return "\n\n".join([*parts, of_words(module)])
    if name == "errors":
        return "\n\n".join([*parts, "Its classes stand among [the errors](errors-room.md)."])
    parts += [
        directive("data", target.id, prose(text), 3)
        for target, _, text in documented(module)
        if getattr(target, "id", "") in shown
    ]
    named = [each for part in whole for each in part.body if getattr(each, "name", None) in shown]
    parts += [of_class(each) for each in named if isinstance(each, ast.ClassDef)]
    functions = (each for each in named if isinstance(each, ast.FunctionDef))
    return "\n\n".join([*parts, *(of_function(each) for each in sorted(functions, key=lambda each: each.name))])


def pages() -> dict[str, str]:
    """Every page by its place."""
    found = {f"api/{name}.md": of_module(name) + "\n" for name in MODULES}
    declared = set(MODULES)
    for slug, (module, title, sentence, names) in ROOMS.items():
        parts = [f"# {title}", prose(sentence)]
        if module not in declared:
            declared.add(module)
            parts.append(f":::{{py:module}} tenside.{module}\n:::")
        for place, group in itertools.groupby(names.split(), PLACES.__getitem__):
            parts += [f":::{{py:currentmodule}} {place}\n:::", *map(of_name, group)]
        found[f"api/{slug}-room.md"] = "\n\n".join(parts) + "\n"
    return found
