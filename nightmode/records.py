"""Frozen records that cost next to nothing to define."""

from inspect import get_annotations
from typing import Any, ClassVar, NoReturn, dataclass_transform


@dataclass_transform(frozen_default=True)
class Record:
    """A frozen record: a subclass names its fields, and equals, shows itself and is matched by them.

    For families of many small classes. `dataclass(frozen=True)` writes and compiles methods anew for each of
    them, half a millisecond a class at every start of the program; these share theirs.
    """

    _fields: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        cls._fields = (*cls._fields, *get_annotations(cls))
        setattr(cls, "__match_args__", cls._fields)  # noqa: B010  mypy has a view of its own on this one

    def __init__(self, *values: Any, **named: Any) -> None:
        """Take the fields in their order or by name. TypeError for one too many or one that is missing."""
        fields = self._fields
        given = dict(zip(fields, values, strict=False)) | named
        absent = [name for name in fields if name not in given and not hasattr(type(self), name)]
        if len(values) + len(named) != len(given) or not given.keys() <= set(fields) or absent:
            raise TypeError(f"{type(self).__name__} is made of {', '.join(fields) or 'nothing'}")
        self.__dict__.update(given)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} stays as it is")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} stays")

    def _values(self) -> tuple[Any, ...]:
        return tuple(getattr(self, name) for name in self._fields)

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self._values() == other._values()

    def __hash__(self) -> int:
        return hash((self.__class__, self._values()))

    def __repr__(self) -> str:
        values = ", ".join(f"{name}={getattr(self, name)!r}" for name in self._fields)
        return f"{type(self).__name__}({values})"
