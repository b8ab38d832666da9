"""What every record of the keeper's files has in common."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, model_validator

from showprep.season.values.fields import Number, Whole
from showprep.season.values.unit_keys import with_metric_keys

Positive = Annotated[Number, Field(gt=0)]
NotNegative = Annotated[Number, Field(ge=0)]
Count = Annotated[Whole, Field(ge=0)]
Merit = Annotated[Number, Field(ge=0, le=100)]


class Record(BaseModel):
    """A frozen record that refuses unknown keys; keys that name another unit are understood."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    @model_validator(mode="before")
    @classmethod
    def _other_keys(cls, data: Any) -> Any:
        return with_metric_keys(data, cls.model_fields) if isinstance(data, dict) else data
