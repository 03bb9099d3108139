"""An OpenID provider of the tests' own, on loopback, that lets in whoever the test names.

It speaks the code flow of OpenID Connect Core 1.0 (sections 3.1.2 and 3.1.3) as far as a client
needs it, from memory, not checked against the text.
"""

import secrets
import socket
import threading
import time
from base64 import b64decode
from dataclasses import dataclass, field
from urllib.parse import parse_qs, urlencode

import uvicorn
from joserfc import jwt
from joserfc.jwk import RSAKey
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

CLIENT, SECRET = "hangar", "a secret of the test"


@dataclass
class Provider:
    """``claims`` are what is said of whoever signs in next."""

    claims: dict[str, object] = field(default_factory=dict)
    key: RSAKey = field(default_factory=lambda: RSAKey.generate_key(2048, {"kid": "1"}))
    codes: dict[str, dict[str, object]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Find a port, and serve on it in a thread."""
        self._socket = socket.socket()
        self._socket.bind(("127.0.0.1", 0))
        self.address = f"http://127.0.0.1:{self._socket.getsockname()[1]}"
        routes = [
            Route("/.well-known/openid-configuration", self._about),
            Route("/authorize", self._authorize),
            Route("/token", self._token, methods=["POST"]),
            Route("/keys", self._keys),
        ]
        self._server = uvicorn.Server(uvicorn.Config(Starlette(routes=routes), log_level="error"))
        run = self._server.run
        self._thread = threading.Thread(target=run, args=([self._socket],), daemon=True)
        self._thread.start()

    def end(self) -> None:
        """Serve no longer."""
        self._server.should_exit = True
        self._thread.join(10)
        self._socket.close()

    async def _about(self, request: Request) -> Response:
        return JSONResponse({
            "issuer": self.address,
            "authorization_endpoint": f"{self.address}/authorize",
            "token_endpoint": f"{self.address}/token",
            "jwks_uri": f"{self.address}/keys",
            "response_types_supported": ["code"],
            "subject_types_supported": ["public"],
            "id_token_signing_alg_values_supported": ["RS256"],
        })  # fmt: skip

    async def _keys(self, request: Request) -> Response:
        return JSONResponse({"keys": [self.key.as_dict(private=False)]})

    async def _authorize(self, request: Request) -> Response:
        asked = request.query_params
        assert asked["client_id"] == CLIENT
        code = secrets.token_urlsafe(8)
        self.codes[code] = {**self.claims, "nonce": asked.get("nonce")}
        back = urlencode({"code": code, "state": asked["state"]})
        return RedirectResponse(f"{asked['redirect_uri']}?{back}", 303)

    async def _token(self, request: Request) -> Response:
        told = parse_qs((await request.body()).decode())
        login = request.headers.get("authorization", "").removeprefix("Basic ")
        pair = b64decode(login).decode() if login else ""
        in_body = ":".join(told.get(name, [""])[0] for name in ("client_id", "client_secret"))
        if f"{CLIENT}:{SECRET}" not in (pair, in_body):
            return JSONResponse({"error": "invalid_client"}, 401)
        claims = self.codes.pop(told["code"][0])
        now = int(time.time())
        about = {"iss": self.address, "aud": CLIENT, "iat": now, "exp": now + 600, **claims}
        token = jwt.encode({"alg": "RS256", "kid": "1"}, about, self.key)
        answer = {"access_token": "a", "token_type": "Bearer", "expires_in": 600}
        return JSONResponse({**answer, "id_token": token})
