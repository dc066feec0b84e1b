"""How is a frozen value made, cheaply?

    @record
    class Level:
        z: Coordinate = must("height of the bench mark")        Level(z=30.48)

A dataclass in all that others ask of it (`fields`, `replace`, equality), but its methods are written here once instead
of being compiled for each of the hundred records of the house: that was a third of the start-up.
"""

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from typing import Any, TypeVar, dataclass_transform

Kind = TypeVar("Kind", bound=type)


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(field,))
def record(kind: Kind) -> Kind:
    """A frozen dataclass whose values are given by keyword."""
    kind.__doc__ = kind.__doc__ or kind.__name__  # else one is made from the signature, slowly
    made: Any = dataclass(init=False, repr=False, eq=False)(kind)
    made._defaults = tuple((f.name, f.default, f.default_factory) for f in fields(made))
    made._names = frozenset(name for name, _, _ in made._defaults)
    for method in _METHODS:
        setattr(made, method.__name__, method)
    return kind


def __init__(self: Any, **given: Any) -> None:
    if not self._names >= given.keys():
        raise TypeError(f"{type(self).__name__} has no {sorted(given.keys() - self._names)}")
    values = self.__dict__
    for name, default, factory in self._defaults:
        if name in given:
            values[name] = given[name]
        elif default is not MISSING:
            values[name] = default
        elif factory is not MISSING:
            values[name] = factory()
        else:
            raise TypeError(f"{type(self).__name__} needs {name}")


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


_METHODS: tuple[Callable[..., Any], ...] = (__init__, __eq__, __hash__, __repr__, __setattr__, __delattr__)
