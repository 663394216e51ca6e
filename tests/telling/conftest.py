from tests.web.conftest import cast

__all__ = ["cast"]
