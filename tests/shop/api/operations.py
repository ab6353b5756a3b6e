"""The operations of the API, from its OpenAPI document, and the right that each asks for."""

import re

from flueproof.shop.api.doors import api
from flueproof.shop.api.token_door import BearerToken

METHODS = ("get", "post", "patch", "put", "delete")


def operations():
    document = api.get_openapi_schema()
    return [
        (method, re.sub(r"\{\w+\}", "1", path).removeprefix("/api/v1"), operation)
        for path, item in document["paths"].items()
        for method, operation in item.items()
        if method in METHODS
    ]


def right_of(name):
    """Return the right that an operation's own token door asks for."""
    for _, router in api._routers:
        for view in router.path_operations.values():
            for operation in view.operations:
                if operation.view_func.__name__ == name:
                    (door,) = operation.auth_callbacks
                    assert isinstance(door, BearerToken)
                    return door.right
    raise AssertionError(name)


def view_name(operation):
    """Return the name of the function behind an operation of the document."""
    by_id = {
        f"{one.view_func.__module__.replace('.', '_')}_{one.view_func.__name__}": one.view_func.__name__
        for _, router in api._routers
        for view in router.path_operations.values()
        for one in view.operations
    }
    return by_id[operation["operationId"]]
