"""Frozen records that cost next to nothing to define."""

from inspect import get_annotations
from operator import attrgetter
from typing import Any, ClassVar, NoReturn, TypeVar, dataclass_transform


@dataclass_transform(frozen_default=True)
class Record:
    """A frozen record: a subclass names its fields, and equals, shows itself and is matched by them.

    With eq=False (`class Track(Record, eq=False)`) it equals nothing but itself: for what holds arrays.
    `dataclass(frozen=True)` writes and compiles methods anew for each class, half a millisecond each at every
    start of the program, and there are a hundred of them; these share theirs. A field that is made anew for
    each, by default_factory, is left to dataclasses.
    """

    _fields: ClassVar[tuple[str, ...]] = ()
    _known: ClassVar[frozenset[str]] = frozenset()
    _defaults: ClassVar[dict[str, Any]] = {}
    #: From a record to its class and values: by these it equals others, and is hashed.
    _key: ClassVar["attrgetter[Any]"] = attrgetter("__class__")

    def __init_subclass__(cls, eq: bool = True) -> None:
        cls._fields = tuple(dict.fromkeys((*cls._fields, *get_annotations(cls))))
        cls._known = frozenset(cls._fields)
        cls._defaults = {name: getattr(cls, name) for name in cls._fields if hasattr(cls, name)}
        for name, default in cls._defaults.items():
            if type(default).__hash__ is None:
                raise TypeError(f"{cls.__name__}.{name} would be one list, dict or set for all of them")
        cls._key = attrgetter("__class__", *cls._fields)
        setattr(cls, "__match_args__", cls._fields)  # noqa: B010  mypy has a view of its own on this one
        if not eq:
            cls.__eq__, cls.__hash__ = object.__eq__, object.__hash__  # type: ignore[method-assign]  # each class chooses

    def __init__(self, *values: Any, **named: Any) -> None:
        """Take the fields in their order or by name. TypeError for one too many or one that is missing."""
        told = dict(zip(self._fields, values, strict=False)) | named if values else named
        given = self._defaults | told
        once = len(told) == len(values) + len(named)
        if not (once and len(given) == len(self._fields) and named.keys() <= self._known):
            raise TypeError(f"{type(self).__name__} is made of {', '.join(self._fields) or 'nothing'}")
        self.__dict__.update(given)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} stays as it is")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} stays")

    def __eq__(self, other: object) -> bool:
        if self is other:  # the most frequent case
            return True
        return type(other) is type(self) and self._key(self) == self._key(other)

    def __hash__(self) -> int:
        return hash(self._key(self))

    def __repr__(self) -> str:
        values = ", ".join(f"{name}={value!r}" for name, value in _values_of(self).items())
        return f"{type(self).__name__}({values})"


@dataclass_transform(frozen_default=True, kw_only_default=True)
class NamedRecord(Record):
    """A record whose fields are given by name, so that a subclass may add fields without a default."""


_Kind = TypeVar("_Kind", bound=Record)


def field_names(kind: type[Record]) -> tuple[str, ...]:
    """Return the names of the fields of a kind of record, a parent's first."""
    return kind._fields


def replace(record: _Kind, **changes: Any) -> _Kind:
    """Return a record with some of its fields changed. TypeError for a field that it does not have."""
    return type(record)(**_values_of(record) | changes)


def made_from(kind: type[_Kind], record: Record, **further: Any) -> _Kind:
    """Return a record of a kind with those of its fields that `record` has, and further ones above them.

    TypeError if a field is still missing then.
    """
    shared = {name: getattr(record, name) for name in kind._fields if name in record._known}
    return kind(**shared | further)


def _values_of(record: Any) -> dict[str, Any]:
    return {name: getattr(record, name) for name in record._fields}
