"""A calendar on a CalDAV server: what lies in it, and changes to single jobs (RFC 4791)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from urllib.parse import quote, unquote, urlsplit
from xml.etree import ElementTree
from xml.sax.saxutils import escape

from msgspec import Struct

from showprep.outputs.failure import Failure
from showprep.outputs.server.connection import Answer, Server
from showprep.outputs.server.refusals import refusal

_DAV, _CALDAV = "{DAV:}", "{urn:ietf:params:xml:ns:caldav}"
_WHAT_IS_IT = b"""<?xml version="1.0" encoding="utf-8"?>
<propfind xmlns="DAV:" xmlns:c="urn:ietf:params:xml:ns:caldav"><prop><resourcetype/>
<c:supported-calendar-component-set/></prop></propfind>"""
_ETAGS = b"""<?xml version="1.0" encoding="utf-8"?>
<propfind xmlns="DAV:"><prop><getetag/><resourcetype/></prop></propfind>"""
_THESE = """<?xml version="1.0" encoding="utf-8"?>
<c:calendar-multiget xmlns="DAV:" xmlns:c="urn:ietf:params:xml:ns:caldav"><prop><c:calendar-data/>
</prop>{hrefs}</c:calendar-multiget>"""
_AT_ONCE = 50  # resources asked for in one request
_SAYS_NOTHING = "The server's answer is empty: it does not say whether there is a calendar here."
_PIECE = 65_536  # bytes parsed at a time: a document type is refused before the rest is read
_XML = "application/xml; charset=utf-8"


class Collection(Struct, frozen=True):
    """One calendar; every job in it is a resource of its own, called by its UID."""

    server: Server

    def check(self) -> None:
        """Raises Failure, in words, when this is no calendar that takes events."""
        found = self._properties("", _WHAT_IS_IT, depth=0)
        if not found:
            raise Failure(_SAYS_NOTHING)
        for response in found:
            if response.find(f".//{_DAV}resourcetype/{_CALDAV}calendar") is None:
                raise Failure(
                    "There is something at this address, but it is no calendar. Look for the"
                    " CalDAV address of one calendar, not of the whole account."
                )
            kinds = [kind.get("name", "") for kind in response.iter(f"{_CALDAV}comp")]
            if kinds and "VEVENT" not in kinds:
                raise Failure("This calendar takes no events, only: " + ", ".join(kinds) + ".")

    def etags(self) -> dict[str, str]:
        """What lies in the calendar: the etag of each resource by its name."""
        found = {}
        responses = self._properties("", _ETAGS, depth=1)
        if not responses:
            # The calendar itself is always among them (RFC 4918 §9.1): an answer without it does
            # not say that the calendar is empty.
            raise Failure(_SAYS_NOTHING)
        for response in responses:
            name = _name(response.findtext(f"{_DAV}href", ""))
            etag = response.findtext(f".//{_DAV}getetag", "")
            if name and response.find(f".//{_DAV}resourcetype/{_DAV}collection") is None:
                found[name] = etag
        return found

    def etag(self, name: str) -> str | None:
        """The etag of one resource, for servers that do not tell it when it is written."""
        for response in self._properties(name, _ETAGS, depth=0):
            return response.findtext(f".//{_DAV}getetag", "") or None
        return None

    def get(self, name: str) -> Answer:
        return self.server.ask("GET", self._path(name), {"Accept": "text/calendar"})

    def many(self, names: Iterable[str]) -> Iterator[bytes]:
        """Many resources in few requests (RFC 4791 §7.9); nothing from a server that cannot."""
        rest = iter(names)
        while some := list(islice(rest, _AT_ONCE)):
            hrefs = "".join(f"<href>{escape(self._path(quote(name)))}</href>" for name in some)
            headers = {"Depth": "1", "Content-Type": _XML}
            wanted = _THESE.replace("{hrefs}", hrefs).encode()
            answer = self.server.ask("REPORT", self._path(""), headers, wanted)
            if answer.status != 207:
                return
            for response in _parsed(answer.body):
                data = response.findtext(f".//{_CALDAV}calendar-data", "")
                if data:
                    yield data.encode("utf-8")

    def put(self, name: str, data: bytes, etag: str | None) -> Answer:
        """Write one job: a new one (`etag` None) only where none is, an old one only over the
        edition that is expected."""
        only_if = {"If-None-Match": "*"} if etag is None else {"If-Match": etag}
        headers = {"Content-Type": "text/calendar; charset=utf-8", **only_if}
        return self.server.ask("PUT", self._path(name), headers, data)

    def delete(self, name: str, etag: str) -> Answer:
        return self.server.ask("DELETE", self._path(name), {"If-Match": etag})

    def _path(self, name: str) -> str:
        return self.server.address.path + name

    def _properties(self, name: str, wanted: bytes, depth: int) -> list[ElementTree.Element]:
        headers = {"Depth": str(depth), "Content-Type": _XML}
        answer = self.server.ask("PROPFIND", self._path(name), headers, wanted)
        if answer.status != 207:
            if 200 <= answer.status < 300:
                raise Failure(refusal(405, {}))
            raise Failure(refusal(answer.status, answer.headers))
        return _parsed(answer.body)


def _name(href: str) -> str:
    """The last part of a resource's path; "" for the collection itself."""
    return unquote(urlsplit(href).path.rpartition("/")[2])


class _NoTypes(ElementTree.TreeBuilder):
    """No answer of a calendar server needs a document type, which could hold entities that grow."""

    def doctype(self, name: str, pubid: str | None, system: str | None) -> None:
        raise ElementTree.ParseError("a document type")


def _parsed(body: bytes) -> list[ElementTree.Element]:
    try:
        return _responses(body)
    except ElementTree.ParseError as error:
        raise Failure("The server's answer cannot be read. Is it a CalDAV server?") from error


def _responses(body: bytes) -> list[ElementTree.Element]:
    parser = ElementTree.XMLParser(target=_NoTypes())
    for start in range(0, len(body), _PIECE):
        parser.feed(body[start : start + _PIECE])
    root: ElementTree.Element = parser.close()
    return root.findall(f"{_DAV}response")
