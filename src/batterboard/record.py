"""How is a frozen value made, cheaply?

    @record
    class Level:
        z: Coordinate = must("height of the bench mark")        Level(z=30.48)

    @ordered
    class Piece:                                                Piece("W1", length=1.56)
        name: str

A dataclass in all that others ask of it (`fields`, `replace`, equality), but its methods are written here once instead
of being compiled for each of the hundreds of the house, and its fields are made when somebody asks for them: together
that was a third of the start-up.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field
from typing import Any, TypeVar, dataclass_transform

Kind = TypeVar("Kind", bound=type)


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(field,))
def record(kind: Kind) -> Kind:
    """A frozen dataclass whose values are given by keyword."""
    _make(kind, _by_keyword)
    return kind


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def ordered(kind: Kind) -> Kind:
    """A frozen dataclass whose values may be given in their order."""
    _make(kind, _in_order)
    return kind


def is_record(value: Any) -> bool:
    """Whether it is a record or a kind of record."""
    return hasattr(value, "_defaults")


def said(kind: Any) -> Iterator[tuple[str, Any, Any, Any, Mapping[str, Any]]]:
    """Of each of its fields: name, annotation, default, factory and what is said of it. Makes no dataclass fields."""
    for (name, default, factory), annotation in zip(kind._defaults, kind.__annotations__.values(), strict=True):
        yield name, annotation, default, factory, kind._metadata.get(name, {})


def _make(kind: Any, begin: Callable[..., None]) -> None:
    kind.__doc__ = kind.__doc__ or kind.__name__  # else one is made from the signature, slowly
    kind._defaults = tuple(_default(name, kind.__dict__.get(name, MISSING)) for name in kind.__annotations__)
    kind._metadata = {name: given.metadata for name, given in kind.__dict__.items() if isinstance(given, Field)}
    kind._names = frozenset(kind.__annotations__)
    kind.__init__ = begin
    for method in _METHODS:
        setattr(kind, method.__name__, method)
    kind.__dataclass_fields__ = _Fields()


def _default(name: str, given: Any) -> tuple[str, Any, Any]:
    return (name, given.default, given.default_factory) if isinstance(given, Field) else (name, given, MISSING)


class _Fields:
    """Stands where a dataclass keeps its fields until somebody asks for them."""

    def __get__(self, made: Any, kind: Any) -> Any:
        del kind.__dataclass_fields__
        dataclass(init=False, repr=False, eq=False)(kind)
        return kind.__dataclass_fields__


def _by_keyword(self: Any, **given: Any) -> None:
    self.__dict__.update(given if given.keys() == self._names else _filled(self, given))


def _in_order(self: Any, *first: Any, **given: Any) -> None:
    values = dict(zip(self.__annotations__, first, strict=False))
    if len(first) > len(self._names) or (given and not values.keys().isdisjoint(given)):
        raise TypeError(f"{type(self).__name__} is given too much: {len(first)} values and {sorted(given)}")
    values.update(given)
    self.__dict__.update(values if values.keys() == self._names else _filled(self, values))


def _filled(self: Any, given: dict[str, Any]) -> dict[str, Any]:
    """What is given, with the defaults of what is not."""
    if not self._names >= given.keys():
        raise TypeError(f"{type(self).__name__} has no {sorted(given.keys() - self._names)}")
    for name, default, factory in self._defaults:
        if name not in given:
            if default is MISSING and factory is MISSING:
                raise TypeError(f"{type(self).__name__} needs {name}")
            given[name] = factory() if default is MISSING else default
    return given


def __eq__(self: Any, other: Any) -> Any:
    return _values(self) == _values(other) if type(self) is type(other) else NotImplemented


def __hash__(self: Any) -> int:
    return hash((type(self), _values(self)))


def __repr__(self: Any) -> str:
    return f"{type(self).__name__}({', '.join(f'{name}={getattr(self, name)!r}' for name, _, _ in self._defaults)})"


def _values(self: Any) -> tuple[Any, ...]:
    """Its fields; what was worked out and kept beside them does not count."""
    return tuple(self.__dict__[name] for name, _, _ in self._defaults)


def __setattr__(self: Any, name: str, value: Any) -> None:
    raise FrozenInstanceError(f"{name} of a frozen {type(self).__name__} cannot be set")


def __delattr__(self: Any, name: str) -> None:
    raise FrozenInstanceError(f"{name} of a frozen {type(self).__name__} cannot be deleted")


_METHODS: tuple[Callable[..., Any], ...] = (__eq__, __hash__, __repr__, __setattr__, __delattr__)
