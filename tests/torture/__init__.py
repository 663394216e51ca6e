"""Phones that write on a connection as bad as it gets; at the end every entry must be there once.

Nothing inside is replaced: the browser is Chromium with its own fetch, IndexedDB and service worker, the site is `up` as
shipped over HTTPS, and between them stands a real proxy on loopback that loses, holds, doubles and reorders requests.
"""
