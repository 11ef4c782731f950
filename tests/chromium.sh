#!/bin/sh
# Find a Chromium for the browser tests; install it where this may be done; else say what is left out.
for name in chromium chromium-browser google-chrome; do
    command -v "$name" >/dev/null 2>&1 && exit 0
done
if command -v apt-get >/dev/null 2>&1 && [ "$(id -u)" = 0 ]; then
    (apt-get update && DEBIAN_FRONTEND=noninteractive apt-get install --yes --no-install-recommends chromium) >/dev/null 2>&1
fi
command -v chromium >/dev/null 2>&1 ||
    echo "no Chromium: the tests in tests/service/browser are left out; install the package chromium to run them"
exit 0
