"""The page over HTTP, on this computer only.

    /              the page; /page.css and /page.js are its style and script
    /sight.json    what it shows, whole
    /working/ID/N  the working of check N of that sight
    /events        a line for each new sight; a browser that comes back says which it saw last

Nothing is written and nothing comes from elsewhere. A request that names another host, or that another site's page
makes, is refused: a page on the net must not read a job through the builder's own browser.
"""

import asyncio
import socket
import threading
import webbrowser
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from importlib.resources import files
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from batterboard.app import shown
from batterboard.app.follow import Follower

HOST = "127.0.0.1"
LOCAL = ("127.0.0.1", "localhost")
EVERY = 0.2  # between two looks at the file [s]
QUIET = 15.0  # before a silent stream says that it is still there [s]
PAGES = {
    "/": ("index.html", "text/html"),
    "/page.css": ("page.css", "text/css"),
    "/page.js": ("page.js", "text/javascript"),
}
KEPT_OUT = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src data:; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "no-store",
}


class CannotServe(Exception):
    for_the_user = True


def serve(path: Path, port: int = 0, browser: bool = True) -> int:
    """Follow a job file on a page until Ctrl-C. Raises CannotServe where there is no such file or the port is taken."""
    if not path.exists():
        raise CannotServe(f"{path}: there is no such file: batterboard new KIND writes a starting file")
    follower = Follower(path)
    with _listening(port) as listening:
        follower.look()
        address = f"http://{HOST}:{listening.getsockname()[1]}/"
        print(f"{path} is followed at {address} (this computer only; Ctrl-C ends it)", flush=True)
        if browser:
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
        server: uvicorn.Server
        app = application(follower, lambda: server.should_exit)
        server = uvicorn.Server(
            uvicorn.Config(app, log_level="warning", access_log=False, server_header=False, ws="none", http="h11")
        )
        try:
            server.run(sockets=[listening])
        except KeyboardInterrupt:
            pass
    print("no longer followed")
    return 0


def application(follower: Follower, stopping: Callable[[], bool] = lambda: False) -> Starlette:
    """The page's application; the file is looked at while it runs."""

    @asynccontextmanager
    async def following(_: Starlette) -> AsyncIterator[None]:
        task = asyncio.create_task(_follow(follower))
        yield
        task.cancel()

    def sight(_: Request) -> Response:
        return Response(follower.sight.as_json(), media_type="application/json")

    def working(request: Request) -> Response:
        now, number = follower.sight, request.path_params["number"]
        if request.path_params["id"] != now.id or now.plan is None or number >= len(now.plan.checks):
            return PlainTextResponse("the file has changed since", 404)
        return JSONResponse(shown.working(now.plan, now.plan.checks[number]))

    async def events(request: Request) -> Response:
        seen = request.headers.get("last-event-id", "")
        return StreamingResponse(_events(follower, seen, stopping), media_type="text/event-stream")

    routes = [
        *(Route(address, _page(name, kind)) for address, (name, kind) in PAGES.items()),
        Route("/sight.json", sight),
        Route("/working/{id}/{number:int}", working),
        Route("/events", events),
    ]
    app = Starlette(routes=routes, lifespan=following)
    app.add_middleware(OnlyHere)
    return app


async def _follow(follower: Follower) -> None:
    while True:
        await run_in_threadpool(follower.look)
        await asyncio.sleep(EVERY)


async def _events(follower: Follower, seen: str, stopping: Callable[[], bool]) -> AsyncIterator[str]:
    """Only the newest sight is told: who was away needs none of those between."""
    yield "retry: 1000\n\n"
    silent = 0.0
    while not stopping():
        if follower.sight.id != seen:
            seen = follower.sight.id
            yield f"id: {seen}\nevent: sight\ndata: {seen}\n\n"
            silent = 0.0
        elif silent > QUIET:
            yield ": still here\n\n"
            silent = 0.0
        await asyncio.sleep(EVERY / 2)
        silent += EVERY / 2


def _page(name: str, kind: str) -> Callable[[Request], Response]:
    content = files("batterboard.app").joinpath("pages", name).read_bytes()
    return lambda _: Response(content, media_type=kind)


def _listening(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(64)
    except (OSError, OverflowError) as problem:
        listening.close()
        said = getattr(problem, "strerror", None) or "ports are 0 to 65535"
        raise CannotServe(f"port {port} cannot be used: {said}: leave out --port for a free one") from None
    return listening


class OnlyHere:
    """Lets in what this computer asks of itself, and says to the browser that nothing else belongs to the page."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_kept(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(KEPT_OUT)
            await send(message)

        if _is_from_here(Headers(scope=scope)):
            await self.app(scope, receive, send_kept)
        else:
            refusal = PlainTextResponse("This page is for this computer only.", 403)
            await refusal(scope, receive, send_kept)


def _is_from_here(headers: Headers) -> bool:
    host = headers.get("host", "")
    if host.partition(":")[0] not in LOCAL:
        return False
    if headers.get("origin", f"http://{host}") != f"http://{host}":
        return False
    following_a_link = headers.get("sec-fetch-mode") == "navigate"
    return following_a_link or headers.get("sec-fetch-site", "none") in ("none", "same-origin")
