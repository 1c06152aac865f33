# The first command of a new clone is `make run`; the second is `make test`.
# Needs: the Rust toolchain (rustup reads rust-toolchain.toml), a C++ compiler, make, bash, CMake and
# libclang, and for the tests node with npm, poppler's command line tools, and Python with its venv
# module; CMake, libclang and the last two are installed with apt-get where they are missing.

CUPWRIGHT := target/release/cupwright
DEMO := examples/heron-low-tide.toml

.PHONY: run test bench fmt check tools builders

run:
	@command -v cargo >/dev/null || { echo "Rust is missing: install it with rustup (https://rustup.rs)."; exit 1; }
	@command -v cc >/dev/null || { echo "A C compiler is missing: on Debian, apt-get install build-essential."; exit 1; }
	@command -v c++ >/dev/null || { echo "A C++ compiler is missing: on Debian, apt-get install build-essential."; exit 1; }
	@tools/install-builders
	cargo build --release --bin cupwright
	$(CUPWRIGHT) plan $(DEMO) --out out/demo

test: builders tools
	cargo test --release --workspace

# What the solver of integer programs is compiled with.
builders:
	@tools/install-builders

# What the tests measure with: a PDF renderer, the glTF validator and a general solver.
tools: .tools/node_modules/gltf-validator/package.json
	@tools/install-pdftoppm
	@tools/install-reference

.tools/node_modules/gltf-validator/package.json: tools/package.json tools/package-lock.json
	@for need in node npm; do command -v $$need >/dev/null || { echo "$$need is missing: on Debian, apt-get install nodejs npm."; exit 1; }; done
	@mkdir -p .tools
	cp tools/package.json tools/package-lock.json .tools/
	cd .tools && npm ci --no-audit --no-fund --silent
	@touch $@

bench: builders
	cargo bench -p buying --bench books
	cargo bench -p shape --bench art
	cargo bench -p coats --bench cure
	cargo bench -p schedule --bench published
	cargo bench -p cupwright --bench road
	cargo bench -p schedule --bench studios -- memory best seeds=5 long=10
	CARGO_TARGET_DIR=bench/target cargo run --release --manifest-path bench/Cargo.toml
	npm install --prefix bench --no-audit --no-fund --silent
	node bench/circles.mjs

fmt:
	cargo fmt --all

check: builders
	cargo fmt --all --check
	cargo clippy --release --workspace --all-targets -- -D warnings
