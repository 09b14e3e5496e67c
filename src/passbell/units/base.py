"""What every unit and every model shares: frozen models and one kind of error."""

from typing import Any, Self

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from passbell.units.mendable import MendableError
from passbell.units.text import shown


class UnitError(MendableError):
    """A value that cannot be read as the unit asked for."""


class Frozen(BaseModel):
    """Base of every model: immutable, hashable, and closed to unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=False)


class Written:
    """A value that a person writes as text with its unit, and that prints as text again.

    A subclass gives `parse`, and `__str__` whose result `parse` reads back; in a pydantic model
    it takes that text or an instance, and refuses a bare number with the mend.
    """

    __slots__ = ()
    _MEND = "write it as quoted text with its unit"
    _BARE = "has no unit"

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read the value from its text.

        Raises:
            UnitError: when the text is no such value.
        """
        raise NotImplementedError

    @classmethod
    def __get_pydantic_core_schema__(
        cls, source: type[Any], handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            cls._validate,
            serialization=core_schema.plain_serializer_function_ser_schema(str),
        )

    @classmethod
    def _validate(cls, value: object) -> Self:
        if isinstance(value, cls):
            return value
        try:
            if not isinstance(value, str):
                raise UnitError(f"{shown(value)} {cls._unquoted(value)}", cls._MEND)
            return cls.parse(value)
        except UnitError as error:
            raise refused(error.what, error.mend) from None

    @classmethod
    def _unquoted(cls, value: object) -> str:
        """What is wrong with a value that is no text."""
        if hasattr(value, "isoformat"):
            return "is not in quotes"
        number = isinstance(value, int | float) and not isinstance(value, bool)
        return cls._BARE if number else "is not text"


def refused(what: str, mend: str) -> PydanticCustomError:
    """A refusal by a validator of a model, with what is wrong and the mend as in `UnitError`."""
    return PydanticCustomError("unit", "{what}; {mend}", {"what": what, "mend": mend})
