"""The faces that holes are drawn on, as people read them. Twin of static/js/ui/face_rows.js."""

from webapp.pages.rule_figures import figure
from webapp.pages.rule_row import Json, by_id, row
from webapp.pages.texts import _


def face_rows(pack: Json) -> list[Json]:
    """One row for each face: its size and what it carries from the works."""
    return [_face(pack, face) for face in pack["faces"]["drawn"]]


def _face(pack: Json, face: Json) -> Json:
    width, height = figure(face["width_mm"]), figure(face["height_mm"])
    label = by_id(pack["holes"]["places"], face["id"])["label"]
    features = "; ".join(_feature(feature) for feature in face["features"])
    says = [
        _(
            "{width} by {height} mm, drawn twice: {names}.",
            width=width, height=height, names=", ".join(face["twice"]),
        )
        if "twice" in face
        else _("{width} by {height} mm.", width=width, height=height),
        _("From the works: {features}.", features=features),
    ]  # fmt: skip
    return row(f"face.{face['id']}", label[:1].upper() + label[1:], says, face)


def _feature(feature: Json) -> str:
    if "round_mm" in feature:
        return f"{feature['label']}, {figure(feature['round_mm'])} mm"
    width, height = feature["box_mm"]
    return _(
        "{feature}, {width} by {height} mm",
        feature=feature["label"], width=figure(width), height=figure(height),
    )  # fmt: skip
