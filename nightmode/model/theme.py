"""theme.toml: red levels, not colours, so that a theme cannot hold green or blue."""

from pydantic import Field, model_validator

from nightmode.errors import UnfitError
from nightmode.model.base import Model, Name, Remark


class Red(Model):
    """Levels of red, 0 to 255, for each role on the screen."""

    strong: int = Field(ge=0, le=255)
    text: int = Field(ge=0, le=255)
    faint: int = Field(ge=0, le=255)
    line: int = Field(ge=0, le=255)
    alert: int = Field(ge=0, le=255)

    @model_validator(mode="after")
    def _ordered(self) -> "Red":
        if not self.line <= self.faint <= self.text <= self.strong <= self.alert:
            raise UnfitError(
                "has levels out of order", "let them not fall from line to faint, text, strong and alert"
            )
        if self.text < 60:
            raise UnfitError("has text below 60, too dark to read", "raise text")
        return self


class Theme(Model):
    """A theme: a name, a line about it, and its levels."""

    name: Name
    about: Remark = ""
    red: Red
