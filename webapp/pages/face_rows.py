"""The faces that holes are drawn on, as people read them. Twin of static/js/ui/face_rows.js."""

from webapp.pages.rule_figures import figure
from webapp.pages.rule_row import Json, by_id, row


def face_rows(pack: Json) -> list[Json]:
    """One row for each face: its size and what it carries from the works."""
    return [_face(pack, face) for face in pack["faces"]["drawn"]]


def _face(pack: Json, face: Json) -> Json:
    size = f"{figure(face['width_mm'])} by {figure(face['height_mm'])} mm"
    says = [f"{size}, drawn twice: {', '.join(face['twice'])}." if "twice" in face else f"{size}."]
    says.append(f"From the works: {'; '.join(_feature(feature) for feature in face['features'])}.")
    label = by_id(pack["holes"]["places"], face["id"])["label"]
    return row(f"face.{face['id']}", label[:1].upper() + label[1:], says, face)


def _feature(feature: Json) -> str:
    if "round_mm" in feature:
        return f"{feature['label']}, {figure(feature['round_mm'])} mm"
    width, height = feature["box_mm"]
    return f"{feature['label']}, {figure(width)} by {figure(height)} mm"
