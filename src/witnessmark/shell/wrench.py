"""The bytes of a wrench's file as text, whatever its program wrote: UTF-8, UTF-16 with its mark, an old code page."""

from witnessmark.text.fault import Fault, Faulty


def wrench_text(data: bytes, name: str) -> str:
    """The text. Raises `Faulty` where the bytes are none."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        wide = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    if not wide and b"\x00" not in data:
        return data.decode("cp1252", "replace")  # in which the degree sign is one byte
    try:
        return data.decode("utf-16") if wide else _none(name)
    except UnicodeDecodeError:
        return _none(name)


def _none(name: str) -> str:
    raise Faulty([Fault("not_utf8", "this is no text; save the trace of the wrench as CSV", name)])
