"""A description for search engines: schema.org's Product with an Offer, no more than the page says.

Source: schema.org, Product, Offer, OfferItemCondition (https://schema.org/OfferItemCondition).
"""

from collections.abc import Sequence
from typing import Any

Json = dict[str, Any]

CONDITIONS = {
    "used": "https://schema.org/UsedCondition",
    "damaged": "https://schema.org/DamagedCondition",
}


def product(view: Json, address: str, photos: Sequence[str]) -> Json:
    """The JSON-LD document of a description at an address; photos by their whole addresses.

    An Offer stands in it only where the seller names what he asks.
    """
    condition = CONDITIONS[view["condition"]]
    found: Json = {
        "@context": "https://schema.org",
        "@type": "Product",
        "name": f"{view['name']} ({view['title']})" if view["name"] else view["title"],
        "description": " ".join(sentence["text"] for sentence in view["short"]),
        "itemCondition": condition,
        "url": address,
    }
    if photos:
        found["image"] = list(photos)
    if view["asked"] is not None:
        found["offers"] = {
            "@type": "Offer",
            "price": view["asked"],
            "priceCurrency": view["currency"],
            "itemCondition": condition,
            "url": address,
        }
    return found
