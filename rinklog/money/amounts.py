"""Amounts of money: whole numbers of the smallest coin, read and written with the decimals of their currency."""

import re

# ISO 4217, list one: currencies whose smallest unit is not a hundredth (from memory, the common ones).
WITHOUT_CENTS = {
    *("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW"),
    *("PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"),
}
THOUSANDTHS = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"}
MOST = 10**12
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


class AmountError(ValueError):
    """Text that is no amount of this currency."""


def digits_of(code: str) -> int:
    """Decimals of a currency.

    Arguments: code [ISO 4217]. Returns: 0, 2 or 3; 2 for a code that is not listed. Source: ISO 4217.
    """
    return 0 if code in WITHOUT_CENTS else 3 if code in THOUSANDTHS else 2


def read(text: str, digits: int) -> int:
    """What a person typed, in the smallest unit of the currency: never rounded.

    Arguments: text such as "12.50" or "12,5", digits of the currency. Returns: whole number above 0. Errors:
    AmountError for anything else, for more decimals than there are, and for amounts past counting.
    """
    compact = text.replace(" ", "").replace(" ", "").replace(" ", "")
    if not _NUMBER.fullmatch(compact):
        raise AmountError(text)
    whole, _point, part = compact.replace(",", ".").partition(".")
    if len(part) > digits:
        raise AmountError(text)
    amount = int(whole) * 10**digits + int(part.ljust(digits, "0") or 0)
    if not 0 < amount <= MOST:
        raise AmountError(text)
    return amount


def plain(cents: int, digits: int) -> str:
    """An amount as a plain number.

    Arguments: cents, digits. Returns: text such as "-12.50", or "1250" for a currency without cents.
    """
    sign, cents = ("-", -cents) if cents < 0 else ("", cents)
    if digits == 0:
        return f"{sign}{cents}"
    whole, part = divmod(cents, 10**digits)
    return f"{sign}{whole}.{part:0{digits}d}"


def cost(water_m3: float, cents_per_1000_m3: int) -> int:
    """What water costs, half a coin rounded up.

    Arguments: water_m3 [m³], cents_per_1000_m3 [smallest unit per 1000 m³]. Returns: smallest unit. Validity: water
    not below 0.
    """
    litres = round(water_m3 * 1000)
    return (litres * cents_per_1000_m3 + 500_000) // 1_000_000
