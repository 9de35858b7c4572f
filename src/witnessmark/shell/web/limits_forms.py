"""The forms of the limits sheet: how each comes in, and the command of the desk that it asks for."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from starlette.datastructures import UploadFile
from starlette.requests import Request

from witnessmark.desk import commands, limits
from witnessmark.desk.bench import Refused
from witnessmark.desk.state import State
from witnessmark.record.event import Event
from witnessmark.shell.web.pages_common import form_texts
from witnessmark.shell.web.trouble import Trouble

MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Sent:
    """A form as it came: its texts, the answers that were ticked, and the file or sheet that came with it."""

    fields: Mapping[str, str]
    ticked: tuple[str, ...] = ()
    file: tuple[str, str] | None = None  # name, text

    def get(self, name: str) -> str:
        """A text, or "" where the form has none."""
        return self.fields.get(name, "")


Make = Callable[[State, commands.Stamp, Sent], tuple[Event, ...]]


def _entry(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    was = limits.key_from(sent.get("was")) if sent.get("was") else None
    return limits.type_entry(now, stamp, typed_of(sent), was, sent.get("seen"))


def typed_of(sent: Sent) -> limits.Typed:
    """The entry that the form of one limit holds."""
    who = (*sent.get("who").split(";"), "", "", "")
    key = limits.Key(sent.get("characteristic"), who[0], who[1], who[2], sent.get("stations"))
    return limits.Typed(
        key, sent.get("low"), sent.get("high"), sent.get("new_low"), sent.get("new_high"), sent.get("given"),
        sent.ticked, sent.get("unit"), sent.get("page"), sent.get("document"), sent.get("doubt"),
        sent.get("checked") == "yes",
    )  # fmt: skip


def _remove(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    return limits.remove_entry(now, stamp, limits.key_from(sent.get("key")), sent.get("seen"))


def _by(stamp: commands.Stamp, sent: Sent) -> commands.Stamp:
    """The stamp of the person that the form names."""
    return replace(stamp, by=sent.get("by").strip()[:60] or stamp.by)


def _check(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    key = limits.key_from(sent.get("key"))
    return limits.check_entry(now, _by(stamp, sent), key, sent.get("page"), sent.get("seen"))


def _check_all(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    return limits.check_all(now, _by(stamp, sent), sent.get("seen"))


def _header(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    words = (sent.get("name"), sent.get("document"), sent.get("doubt"), sent.get("invented") == "yes")
    return limits.name_sheet(now, stamp, *words, sent.get("seen"))


def _operation(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    words = (sent.get("operation"), sent.get("allowed"), sent.get("most"), sent.get("unit"), sent.get("page"))
    return limits.allow(now, stamp, *words, sent.get("seen"))


def _copy(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    if sent.file is None:
        raise Refused("choose the job to copy from, or a file")
    source, text = sent.file
    return limits.copy_sheet(now, stamp, text, source, sent.get("name"), sent.get("replace") == "yes")


def _back(now: State, stamp: commands.Stamp, sent: Sent) -> tuple[Event, ...]:
    event = sent.get("event")
    if now.job.limits is None or now.job.limits.event != event:
        raise limits.Stale("the sheet was changed once more meanwhile; take back on the record sheet what is to go")
    return commands.take_back(now, stamp, event)


FORMS: dict[str, Make] = {
    "entry": _entry, "remove": _remove, "check": _check, "check-all": _check_all, "sheet": _header,
    "operation": _operation, "copy": _copy, "back": _back,
}  # fmt: skip


async def sent_form(request: Request) -> Sent:
    """The form that came; Trouble where what came is none, or its file is too large or no text."""
    kind = request.headers.get("content-type", "")
    if not kind.startswith(("application/x-www-form-urlencoded", "multipart/form-data")):
        raise Trouble(415, "A form is wanted here.", "Send it from the sheet, or use the addresses under /api/.",
                      where="body")  # fmt: skip
    async with request.form(max_fields=60, max_files=1, max_part_size=MOST_BYTES) as form:
        ticked = tuple(one for one in form.getlist("accept") if isinstance(one, str))
        file = form.get("file")
        came = (await _text_of(file)) if isinstance(file, UploadFile) and file.filename else None
        return Sent({key: value[:2000] for key, value in form_texts(form).items()}, ticked, came)


async def _text_of(file: UploadFile) -> tuple[str, str]:
    name = f"file {(file.filename or '').rpartition('/')[2][:80]}"
    content = await file.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise Trouble(413, f"{name} is larger than {MOST_BYTES} bytes.", "A limit sheet is a short text; look whether "
                      "this is the right file.", where="file")  # fmt: skip
    try:
        return name, content.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        raise Trouble(422, f"Byte {bad.start + 1} of {name} is no UTF-8.", "Save it as UTF-8 text and send it again.",
                      where="file") from None  # fmt: skip
