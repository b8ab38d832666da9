"""What every record of the keeper's files has in common."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from showprep.season.fields import Number, Whole

Positive = Annotated[Number, Field(gt=0)]
NotNegative = Annotated[Number, Field(ge=0)]
Count = Annotated[Whole, Field(ge=0)]
Merit = Annotated[Number, Field(ge=0, le=100)]


class Record(BaseModel):
    """A frozen record that refuses unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
