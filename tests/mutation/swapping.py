"""Changes a module that is loaded: its functions run other code from now on, wherever they have been handed to.

A function's code can be put in its place while everything that knows the function goes on knowing it; so can a
A function's code can be put in its place while everything that knows the function goes on knowing it; so can a
number, a word or a list in every module that took it by name, and what functions make of either while the module is
imported; so can the value of a member of an enumeration, and what a record has where nothing is said, as long as none
was made while modules were imported. Whatever else a module does then (a class and its fields, a record made once)
would have to be done again with all that came of it: that is refused.
"""

import ast
import gc
import inspect
import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path, PurePath
from types import CodeType, FunctionType, MappingProxyType, ModuleType
from typing import NamedTuple, TypeAlias

from tests.mutation.mutants import ROOT

PLAIN = (int, float, str, bool, type(None), tuple, list, dict, set, frozenset, MappingProxyType, re.Pattern)
"""What can be rebound: nothing is made of it but where it is read, and nobody asks whether it is the very same."""


Constant: TypeAlias = ast.Assign | ast.AnnAssign
"""A statement that gives a name its value."""


class ImportedAnewError(Exception):
    """The change shows only where the module is imported again."""


class NeverImportedError(Exception):
    """With the change the module could not be imported: whatever needs it fails."""


Functions: TypeAlias = dict[str, dict[CodeType, list[FunctionType]]]
"""The functions that are there, by the path of their file and by their code."""


def functions() -> Functions:
    """Find every function of the package."""
    found: Functions = {}
    for each in gc.get_objects():
        if type(each) is FunctionType and each.__code__.co_filename.startswith(str(ROOT / "loadplan")):
            found.setdefault(each.__code__.co_filename, {}).setdefault(each.__code__, []).append(each)
    return found


@cache
def known_source(file: str) -> tuple[str, CodeType]:
    """Return a file as it is, and its code.

    Args:
        file: Path in the repository.
    """
    path = ROOT / file
    was = path.read_text("utf-8")
    return was, compile(was, str(path), "exec")


def put(file: str, source: str, known: Functions) -> None:
    """Put a changed source in the place of a loaded module's.

    Args:
        file: Path in the repository.
        source: The whole file, changed.
        known: The functions of the package.

    Raises:
        ImportedAnewError: If that takes an import.
        NeverImportedError: If an import would fail.
    """
    path = ROOT / file
    was, old = known_source(file)
    new = compile(source, str(path), "exec")
    pairs = list(pairs_of(old, new))
    found = known.get(str(path), {})
    changed = [(one, other) for one, other in pairs if bare(one) != bare(other)]
    for one, other in pairs:
        if one.co_flags & inspect.CO_OPTIMIZED and one in found:
            for function in found[one]:
                function.__code__ = other
    unplaced = [one for one, _ in changed if not (one.co_flags & inspect.CO_OPTIMIZED and one in found)]
    if unplaced:
        _rebind(_module(file), was, source)
    for one, _ in changed:
        if one in old.co_consts:
            _make_anew(_module(file), one.co_name)


def pairs_of(old: CodeType, new: CodeType) -> Iterator[tuple[CodeType, CodeType]]:
    """Pair the code of a module, of its classes and of their functions with the changed one.

    Raises:
        ImportedAnewError: If there is not the same of them.
    """
    yield old, new
    # A function's own functions are made anew each time it runs.
    if old.co_flags & inspect.CO_OPTIMIZED:
        return
    inner, other = ([each for each in code.co_consts if isinstance(each, CodeType)] for code in (old, new))
    if [each.co_name for each in inner] != [each.co_name for each in other]:
        raise ImportedAnewError
    for one, two in zip(inner, other, strict=True):
        yield from pairs_of(one, two)


def bare(code: CodeType) -> tuple[object, ...]:
    """Return what code does, without where it stands and, for what runs on import, without the functions in it."""
    own = code.co_flags & inspect.CO_OPTIMIZED
    consts = [(bare(each) if own else None) if isinstance(each, CodeType) else repr(each) for each in code.co_consts]
    names = code.co_names, code.co_varnames, code.co_freevars, code.co_cellvars
    return code.co_code, tuple(consts), names, code.co_flags, code.co_exceptiontable


def _module(file: str) -> ModuleType:
    return sys.modules[".".join(PurePath(file).with_suffix("").parts)]


def _rebind(module: ModuleType, was: str, now: str) -> None:
    """Give a changed number or word to all modules that took it by name, and to the constants that are made of it.

    Raises:
        ImportedAnewError: If something else differs, or something else was made of it while modules were imported.
    """
    one, other = _changed_statement(was, now)
    if isinstance(one, ast.ClassDef) and isinstance(other, ast.ClassDef):
        _change_class(module, one, other)
        return
    name = _changed_constant(one, other)
    _bind(module, name, _value(_constant(now, name), module))


def _change_class(module: ModuleType, was: ast.ClassDef, now: ast.ClassDef) -> None:
    """Give a member of an enumeration another value, or a field of a record another one where nothing is said.

    Raises:
        ImportedAnewError: If something else differs, or one of them was made while modules were imported.
    """
    made = vars(module)[was.name]
    name = _changed_constant(*_changed(was.body, now.body))
    (statement,) = (each for each in now.body if isinstance(each, Constant) and _target(each) == name)
    value = _value(statement, module)
    if isinstance(made, type) and issubclass(made, Enum):
        _change_member(made[name], value)
    else:
        _change_default(made, name, value)


def _change_member(member: Enum, value: object) -> None:
    if isinstance(member, int | str) or not _is_plain(value) or value in type(member)._value2member_map_:
        raise ImportedAnewError
    del type(member)._value2member_map_[member.value]
    type(member)._value2member_map_[value] = member
    member._value_ = value


def _change_default(made: type, name: str, value: object) -> None:
    """Change what a record has where nothing is said.

    Raises:
        ImportedAnewError: If it is no record, or one was made while modules were imported.
    """
    begins = vars(made).get("__init__")
    plain = is_dataclass(made) and isinstance(begins, FunctionType) and not made.__subclasses__()
    if not plain or any(_reads(each, made) for each in of_repository()):
        raise ImportedAnewError
    names, defaults = inspect.getfullargspec(begins).args, begins.__defaults__ or ()
    at = names.index(name) - (len(names) - len(defaults)) if name in names else -1
    if at < 0 or not (_is_plain(defaults[at]) and _is_plain(value)):
        raise ImportedAnewError
    begins.__defaults__ = (*defaults[:at], value, *defaults[at + 1 :])


def _reads(module: ModuleType, made: type) -> bool:
    return vars(module).get(made.__name__) is made and made.__name__ in names_of(module).read


def _bind(module: ModuleType, name: str, value: object) -> None:
    """Give a constant another value wherever it is known, and then those that are made of it.

    Raises:
        ImportedAnewError: If something else was made of it while modules were imported.
    """
    old = vars(module)[name]
    if not (_is_plain(old) and _is_plain(value)):
        raise ImportedAnewError
    takers = [each for each in of_repository() if each is module or _takes(each, name, old)]
    for each in takers:
        vars(each)[name] = value
    for each in takers:
        for made, statement in _made_of(each, name) if name in names_of(each).read else ():
            _bind(each, made, _value(statement, each))


def _make_anew(module: ModuleType, function: str) -> None:
    """Make those constants anew that a function has made, as it now is.

    Raises:
        ImportedAnewError: If something else was made by it while the module was imported.
    """
    for each in ast.parse(Path(str(module.__file__)).read_text("utf-8")).body:
        if function not in _run_by(each, _functions_of(module)):
            continue
        match each:
            case ast.Assign(targets=[ast.Name(id=made)]) | ast.AnnAssign(target=ast.Name(id=made)):
                _bind(module, made, _value(each, module))
            case _:
                raise ImportedAnewError


def _is_plain(value: object) -> bool:
    return isinstance(value, PLAIN) or (is_dataclass(value) and not isinstance(value, type))


def _value(statement: Constant, module: ModuleType) -> object:
    """Return what a constant is made of now.

    Raises:
        NeverImportedError: If it cannot be made.
    """
    assert statement.value is not None
    try:
        return eval(compile(ast.Expression(statement.value), "<changed>", "eval"), vars(module))
    except Exception as error:
        raise NeverImportedError from error


def _made_of(module: ModuleType, name: str) -> list[tuple[str, Constant]]:
    """Return the constants of a module that are made of another one, by their names.

    Raises:
        ImportedAnewError: If something else is.
    """
    found = []
    for each in ast.parse(Path(str(module.__file__)).read_text("utf-8")).body:
        if name not in _read_by(each) | _run_by(each, _functions_of(module)):
            continue
        match each:
            case ast.Assign(targets=[ast.Name(id=made)]) | ast.AnnAssign(target=ast.Name(id=made)) if made != name:
                found.append((made, each))
            case _:
                raise ImportedAnewError
    return found


def _changed_statement(was: str, now: str) -> tuple[ast.stmt, ast.stmt]:
    return _changed(ast.parse(was).body, ast.parse(now).body)


def _changed(was: list[ast.stmt], now: list[ast.stmt]) -> tuple[ast.stmt, ast.stmt]:
    """Return the one statement that differs, as it was and as it is.

    Raises:
        ImportedAnewError: If there is not just one.
    """
    changed = [(one, two) for one, two in zip(was, now, strict=True) if ast.dump(one) != ast.dump(two)]
    if len(changed) != 1:
        raise ImportedAnewError
    return changed[0]


def _changed_constant(was: ast.stmt, now: ast.stmt) -> str:
    """Return the name of a constant that differs.

    Raises:
        ImportedAnewError: If something else does.
    """
    if isinstance(was, Constant) and type(was) is type(now) and was.value is not None and _target(was):
        return _target(was)
    raise ImportedAnewError


def _target(constant: Constant) -> str:
    """Return the name that a statement gives a value; "" where it is none, or several."""
    match constant:
        case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
            return name
        case _:
            return ""


def _constant(source: str, name: str) -> Constant:
    for each in ast.parse(source).body:
        match each:
            case ast.Assign(targets=[ast.Name(id=found)]) | ast.AnnAssign(target=ast.Name(id=found)) if found == name:
                return each
            case _:
                pass
    raise ImportedAnewError


def _takes(module: ModuleType, name: str, value: object) -> bool:
    return vars(module).get(name) is value and name in names_of(module).taken


def of_repository() -> list[ModuleType]:
    """List the loaded modules whose files are in the repository."""
    paths = ((each, getattr(each, "__file__", None)) for each in list(sys.modules.values()))
    return [each for each, path in paths if path is not None and path.startswith(str(ROOT)) and path.endswith(".py")]


class Names(NamedTuple):
    """Names in a module.

    Attributes:
        taken: What it imports from others, under the name that it has there.
        read: What it reads while it is imported: outside the bodies of its functions, and in those that it then calls.
    """

    taken: frozenset[str]
    read: frozenset[str]


@cache
def names_of(module: ModuleType) -> Names:
    """Return what a module takes and reads while it is imported.

    Args:
        module: One whose file is in the repository.
    """
    tree = ast.parse(Path(str(module.__file__)).read_text("utf-8"))
    aliases = (alias for each in ast.walk(tree) if isinstance(each, ast.ImportFrom) for alias in each.names)
    taken = frozenset(alias.name for alias in aliases if alias.asname in {None, alias.name})
    return Names(taken, _read_by(tree) | _run_by(tree, _functions_of(module)))


@cache
def _functions_of(module: ModuleType) -> dict[str, ast.FunctionDef]:
    tree = ast.parse(Path(str(module.__file__)).read_text("utf-8"))
    return {each.name: each for each in tree.body if isinstance(each, ast.FunctionDef)}


def _run_by(tree: ast.AST, functions: Mapping[str, ast.FunctionDef]) -> frozenset[str]:
    """Return the module's functions that are called outside the bodies of functions, and all names that these read."""
    calls = {each.func.id for each in _outside(tree) if isinstance(each, ast.Call) and isinstance(each.func, ast.Name)}
    found, waiting = set[str](), calls & functions.keys()
    while waiting:
        name = waiting.pop()
        found.add(name)
        inside = (each for each in ast.walk(functions[name]) if isinstance(each, ast.Name))
        read = {each.id for each in inside if isinstance(each.ctx, ast.Load)}
        waiting |= (read & functions.keys()) - found
        found |= read - functions.keys()
    return frozenset(found)


def _read_by(tree: ast.AST) -> frozenset[str]:
    """Return the names that are read outside the bodies of functions, but for those of types."""
    inside = (each for each in _outside(tree) if isinstance(each, ast.Name))
    return frozenset(each.id for each in inside if isinstance(each.ctx, ast.Load))


def _outside(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield what is outside the bodies of functions, but for types: their defaults and decorators are."""
    waiting = [tree]
    while waiting:
        each = waiting.pop()
        yield each
        if isinstance(each, ast.FunctionDef):
            waiting += [*each.args.defaults, *filter(None, each.args.kw_defaults), *each.decorator_list]
        elif isinstance(each, ast.AnnAssign):
            is_type = isinstance(each.annotation, ast.Name) and each.annotation.id == "TypeAlias"
            waiting += [each.target, *([each.value] if each.value and not is_type else [])]
        elif not isinstance(each, ast.Lambda):
            waiting += ast.iter_child_nodes(each)
