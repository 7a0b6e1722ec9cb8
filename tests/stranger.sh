#!/usr/bin/env bash
# A stranger's first ten minutes: a wheel in a fresh environment, no repository, three commands to a card.
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
there=$(mktemp -d)
trap 'rm -rf "$there"' EXIT
# Built from a copy, so that nothing is left in the repository.
mkdir "$there/source" && (cd "$here" && git ls-files -z -co --exclude-standard | xargs -0 cp --parents -t "$there/source")
python3 -m venv "$there/venv"
"$there/venv/bin/pip" wheel -q --no-deps -w "$there/wheel" "$there/source"
rm -rf "$there/source"
# Every file that is fetched must have a digest that the lock names.
"$there/venv/bin/pip" install -q --require-hashes -r "$here/.ci/lock.txt"
"$there/venv/bin/pip" install -q --no-deps "$there"/wheel/*.whl
export PATH="$there/venv/bin:$PATH"
unset PYTHONPATH
cd "$there"
almanac new my-handbook
cd my-handbook
almanac build
almanac card
test -s site/index.html && test -s site/cards/my-kit.pdf && test -s card-my-kit-a5.pdf
test -s site/assets/almanac.css && grep -q 'my-kit' site/index.html
echo "a stranger's three commands: new, build, card: all well"
