"""Every way a picture can hold its colours, brought to plain red, green and blue."""

from io import BytesIO

from PIL import Image, ImageCms

# A profile for pictures with four inks is 2 MB at most; what is larger is not worth the time it takes.
_LARGEST_PROFILE = 4_000_000
_UNREADABLE = (ImageCms.PyCMSError, OSError, TypeError, ValueError)


def in_rgb(image: Image.Image) -> Image.Image:
    """The loaded picture in mode RGB: 16 bits brought to 8, four inks through their profile, glass on white.

    A picture in that mode is given back itself. Raises what Pillow raises.
    """
    if image.mode == "RGB" and not image.has_transparency_data:
        return image
    if image.mode.startswith("I"):
        image = image.convert("I").point(lambda value: value / 256).convert("L")
    if image.mode == "CMYK":
        image = in_srgb(image, image.info.get("icc_profile", b""))
    if image.has_transparency_data:
        return _on_white(image.convert("RGBA"))
    return image.convert("RGB")


def _on_white(image: Image.Image) -> Image.Image:
    white = Image.new("RGB", image.size, "white")
    white.paste(image, mask=image.getchannel("A"))
    return white


def in_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    """The picture with its colours as sRGB has them; as it is where the profile cannot be read or used."""
    if not 0 < len(profile) <= _LARGEST_PROFILE:
        return image
    try:
        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        shown = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except _UNREADABLE:
        return image
    return shown or image
