"""A photo sent by a program or a page: cut down, stripped of its position, kept once, and named in the job."""

import json
from dataclasses import dataclass
from hashlib import sha256
from typing import Annotated, Any

from fastapi import APIRouter, File, Form, UploadFile
from starlette.concurrency import run_in_threadpool

from witnessmark.desk import decide
from witnessmark.desk.commands import Stamp
from witnessmark.shell.photos import MOST_BYTES, PhotoFault, prepare
from witnessmark.shell.web import shapes
from witnessmark.shell.web.services import Services
from witnessmark.shell.web.trouble import Trouble


@dataclass(frozen=True, slots=True)
class Sent:
    """What came with the bytes of a photo. `x` and `y` are shares of the drawing, "" where no mark was made."""

    stamp: Stamp
    characteristic: str
    place: str
    round: str
    note: str
    x: str
    y: str


def router(services: Services, responses: dict[int | str, dict[str, Any]]) -> APIRouter:
    """POST /api/jobs/{job}/photo."""
    routes = APIRouter(tags=["photos"], responses=responses)

    @routes.post("/api/jobs/{job}/photo", response_model=shapes.Done, summary="A photo, as multipart/form-data")
    async def photo(
        job: str, file: Annotated[UploadFile, File(description="JPEG, PNG or WebP")],
        characteristic: Annotated[shapes.Short, Form()] = "", place: Annotated[shapes.Short, Form()] = "",
        round: Annotated[shapes.Short, Form()] = "as found", note: Annotated[shapes.Words, Form()] = "",
        x: Annotated[shapes.Short, Form()] = "", y: Annotated[shapes.Short, Form()] = "",
        by: Annotated[shapes.Short, Form()] = "", device: Annotated[shapes.Short, Form()] = "",
        id: Annotated[shapes.Id | None, Form()] = None, at: Annotated[shapes.Short, Form()] = "",
    ) -> Any:  # fmt: skip
        stamp = Stamp(id or services.fresh(), at or services.clock(), by, device)
        sent = Sent(stamp, characteristic, place, round or "as found", note, x, y)
        data = await file.read(MOST_BYTES + 1)
        return await run_in_threadpool(keep_photo, services, job, data, sent)

    return routes


def keep_photo(services: Services, job: str, data: bytes, sent: Sent) -> shapes.Done:
    """Prepare, keep, name in the job: in that order, so that no entry names a photo that is not on the disk."""
    from dataclasses import replace

    now = services.snapshots.state(job, sent.round)
    stamp = sent.stamp if sent.stamp.received else replace(sent.stamp, received=_received(data, sent))
    mark = (sent.x, sent.y) if sent.x or sent.y else None
    # Asked before the work is done: what is amiss with the place is told without unfolding a picture.
    decide.add_photo(now, stamp, "0" * 64, (1, 1, 1), sent.characteristic, sent.place, sent.note, mark)
    try:
        made = prepare(data)
    except PhotoFault as fault:
        said = str(fault)
        raise Trouble(413 if len(data) > MOST_BYTES else 422, f"{said[:1].upper()}{said[1:]}.",
                      "Nothing was kept.", where="file") from None  # fmt: skip
    photo = services.store.photos.put(made.jpeg)
    size = (len(made.jpeg), made.width, made.height)
    events = decide.add_photo(now, stamp, photo, size, sent.characteristic, sent.place, sent.note, mark)
    kept = services.store.append(job, events, services.clock())
    return shapes.Done(seq=max((one.seq for one in kept.events), default=0), events=[one.id for one in kept.events],
                       again=kept.again)  # fmt: skip


def _received(data: bytes, sent: Sent) -> str:
    """What came, as text: the photo by its hash. The same again is known by it, whatever its clock says then."""
    said = {"file": sha256(data).hexdigest(), "characteristic": sent.characteristic, "place": sent.place,
            "round": sent.round, "note": sent.note, "x": sent.x, "y": sent.y}  # fmt: skip
    return json.dumps(said, sort_keys=True, ensure_ascii=False)
