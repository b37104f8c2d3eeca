"""Who is let in, and with what."""

import socket
from pathlib import Path

import pytest

from storystick.app.page.guard import LARGEST_BODY, POLICY
from storystick.app.page.routes import ROUTES
from storystick.app.page.serve import LOOPBACK, door
from storystick.app.page.takings import TAKINGS
from storystick.app.page.views import VIEWS
from tests.page.door import Browser, knock, let_in, plans_in


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return plans_in(tmp_path)


def test_a_stranger_sees_that_a_link_is_needed_and_nothing_else(plans: Path):
    client = knock(plans)
    for path in ("/", "/new", "/phone", "/plan/small.yaml", "/api/small.yaml", "/api/small.yaml/log"):
        answer = client.get(path)
        assert answer.status_code == 401, path
        assert "Small case" not in answer.text


def test_a_link_lets_one_browser_in_once(plans: Path):
    client = knock(plans)
    link = f"/?key={client.page.keys.new_link()}"
    answer = client.get(link)
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert client.get("/").status_code == 200
    assert Browser(client.page).get(link).status_code == 401


def test_an_old_link_is_good_for_nothing(plans: Path):
    client = knock(plans)
    link = client.page.keys.new_link()
    client.page.keys.links[link] -= 10_000
    assert client.get(f"/?key={link}").status_code == 401


@pytest.mark.parametrize("key", ["", "x", "../..", "%00", "a" * 4000, "ключ"])
def test_a_guessed_key_is_good_for_nothing(plans: Path, key: str):
    client = knock(plans)
    assert client.get("/", params={"key": key}).status_code == 401


@pytest.mark.parametrize("cookie", ["", "x", '"', "storystick-4863=", "a" * 3000])
def test_a_guessed_cookie_is_good_for_nothing(plans: Path, cookie: str):
    client = knock(plans)
    assert client.get("/", headers={"Cookie": f"storystick-4863={cookie}"}).status_code == 401


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:4863", "127.0.0.1", "127.0.0.1:80", "localhost.evil", ""]
)
def test_a_page_that_points_its_own_name_here_gets_nothing(plans: Path, host: str):
    client = let_in(plans)
    assert client.get("/", headers={"Host": host}).status_code == 421


def test_the_local_networks_name_is_answered_only_where_it_was_asked_for(plans: Path):
    away = {"Host": "192.168.1.7:4863"}
    assert knock(plans).get("/", headers=away).status_code == 421
    assert knock(plans, lan="192.168.1.7").get("/", headers=away).status_code == 401


ORIGINS = [None, "null", "http://evil.example", "https://127.0.0.1:4863", "http://127.0.0.1:4864"]
WRITES = [
    ("PUT", "/api/small.yaml"),
    ("POST", "/api/small.yaml/edit"),
    ("POST", "/api/small.yaml/log"),
    ("POST", "/new"),
    ("POST", "/copy"),
    ("DELETE", "/api/small.yaml"),
]


@pytest.mark.parametrize("origin", ORIGINS)
@pytest.mark.parametrize(("method", "path"), WRITES)
def test_another_page_can_write_nothing(plans: Path, method: str, path: str, origin: str | None):
    client = let_in(plans)
    before = (plans / "small.yaml").read_bytes()
    client.headers.pop("Origin")
    answer = client.request(method, path, json={"text": "x"}, headers={"Origin": origin} if origin else {})
    assert answer.status_code == 403
    assert (plans / "small.yaml").read_bytes() == before


def test_another_page_can_read_nothing_in_the_background(plans: Path):
    client = let_in(plans)
    from_elsewhere = {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}
    assert client.get("/api/small.yaml/plan", headers=from_elsewhere).status_code == 403


def test_what_is_too_large_is_not_even_read(plans: Path):
    client = let_in(plans)
    huge = b"x" * (LARGEST_BODY + 1)
    assert client.put("/api/small.yaml", content=huge).status_code == 413

    def piece_by_piece():  # no length is said beforehand
        for _ in range(4):
            yield b"x" * (LARGEST_BODY // 3)

    sent = client.put("/api/small.yaml", content=piece_by_piece(), headers={"Content-Type": "application/json"})
    assert sent.status_code == 413


def test_every_answer_carries_the_policy(plans: Path):
    client = let_in(plans)
    for path in ("/", "/new", "/plan/small.yaml", "/static/paper.css", "/nowhere", "/api/none.yaml/log"):
        headers = client.get(path).headers
        assert headers["content-security-policy"] == POLICY
        assert headers["x-content-type-options"] == "nosniff"
    assert knock(plans).get("/").headers["content-security-policy"] == POLICY
    assert "'unsafe" not in POLICY
    assert POLICY.startswith(
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'"
    )


@pytest.mark.parametrize(
    "path", ["/static/../folder.py", "/static/..%2ffolder.py", "/static/%2e%2e/folder.py", "/static/x.py", "/static/"]
)
def test_static_files_are_those_of_the_page(plans: Path, path: str):
    assert let_in(plans).get(path).status_code in (404, 400)


def test_the_first_page_says_what_can_be_done(plans: Path):
    text = let_in(plans).get("/").text
    assert "Begin a new piece" in text
    assert "Small case" in text


def test_a_title_full_of_markup_stays_a_title(plans: Path):
    (plans / "odd.yaml").write_text("title: '<script>alert(1)</script>'\nunits: mm\n", "utf-8")
    client = let_in(plans)
    for path in ("/", "/plan/odd.yaml"):
        assert "<script>alert" not in client.get(path).text


def test_the_code_for_a_phone_is_there_only_in_the_local_network(plans: Path):
    client = let_in(plans)
    assert "?key=" not in client.get("/phone").text
    text = let_in(plans, lan="192.168.1.7").get("/phone").text
    assert "http://192.168.1.7:4863/?key=" in text
    assert "data:image/svg+xml" in text


def test_no_page_asks_anything_of_another_server():
    from importlib.resources import files

    room = files("storystick.app.page")
    texts = [p.read_text("utf-8") for folder in ("static", "templates") for p in room.joinpath(folder).iterdir()]
    assert len(texts) > 15
    for text in texts:
        for part in text.split("http")[1:]:
            assert part.startswith("://www.w3.org/") or not part.startswith(("://", "s://")), part[:60]


def every_address() -> list[tuple[str, str]]:
    """What can be asked of the page, as it is routed; each with the method."""
    found = []
    for route in (*VIEWS, *ROUTES, *TAKINGS):
        path = route.path.format(name="small.yaml", question="checked", form="csv")
        found += [(method, path) for method in sorted(route.methods or ()) if method != "HEAD"]
    return [one for one in found if not one[1].startswith("/static/")]


@pytest.mark.parametrize(("method", "path"), every_address())
def test_a_second_user_without_the_secret_gets_nothing_at_all(plans: Path, method: str, path: str):
    stranger = knock(plans, lan="192.168.1.7")
    before = {one.name: one.read_bytes() for one in plans.iterdir()}
    headers = {"Host": "192.168.1.7:4863", "Origin": "http://192.168.1.7:4863"}
    answer = stranger.request(method, path, headers=headers, json={} if method != "GET" else None)
    assert answer.status_code == 401
    assert "Small" not in answer.text
    assert {one.name: one.read_bytes() for one in plans.iterdir()} == before


@pytest.mark.parametrize(
    "name", ["//evil.example", "https://evil.example", "\\\\evil.example", "../../x", "a\r\nX: y", "?key=x#"]
)
def test_the_address_of_a_part_leads_nowhere_else(plans: Path, name: str):
    answer = let_in(plans).get("/part", params={"plan": name, "part": name})
    assert answer.status_code == 303
    to = answer.headers["location"]
    assert to.startswith("/plan/")
    assert to.count("#") == 1
    assert not set(to) & set("\r\n\\?")
    assert "/" not in to.removeprefix("/plan/").partition("#piece/")[0]


def test_an_answer_in_two_pieces_does_not_wait_between_them_for_whoever_asked():
    with door(4910, LOOPBACK) as taken, socket.create_connection(taken.getsockname()):
        come, _ = taken.accept()
        with come:
            assert come.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


def test_two_pages_started_at_once_do_not_meet_at_one_door():
    with door(4890, LOOPBACK) as first, door(first.getsockname()[1], LOOPBACK) as second:
        assert first.getsockname()[1] < second.getsockname()[1]
