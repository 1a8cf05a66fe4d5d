"""What a rule for a value is: it reads one value as a user writes it, or says what would be right."""

from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from loadplan.files.fault_wording import shown
from loadplan.units import QuantityError, System


class RuleError(ValueError):
    """A value that breaks a rule; its text says what is wrong and what would be right."""


class Rule:
    """How one value is read; stands in the annotation of a field."""

    def wants(self, system: System) -> str:
        """Say what would be right.

        Args:
            system: Units of the file.

        Returns:
            A phrase that follows "must be".
        """
        raise NotImplementedError

    def read(self, value: object, system: System) -> object:
        """Read a value.

        Args:
            value: What stands in the file.
            system: Units of the file.

        Returns:
            What it means.
        """
        raise NotImplementedError

    def schema(self) -> dict[str, Any]:
        """Describe the values for an editor.

        Returns:
            A JSON Schema.
        """
        raise NotImplementedError

    def refuse(self, value: object, system: System) -> RuleError:
        """Make the error that says what would be right and what was found.

        Args:
            value: What stands in the file.
            system: Units of the file.

        Returns:
            The error.
        """
        return RuleError(f"must be {self.wants(system)}, is {shown(value)}")

    def __get_pydantic_core_schema__(self, _source: object, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """Hand the rule to pydantic.

        Returns:
            A schema that calls `read`.
        """
        return core_schema.with_info_plain_validator_function(self._read_for_pydantic)

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Hand the description to pydantic.

        Returns:
            A JSON Schema.
        """
        return self.schema()

    def _read_for_pydantic(self, value: object, info: core_schema.ValidationInfo[Any]) -> object:
        try:
            return self.read(value, info.context if isinstance(info.context, System) else System.METRIC)
        except (RuleError, QuantityError) as error:
            raise PydanticCustomError("rule", "{says}", {"says": str(error)}) from None
