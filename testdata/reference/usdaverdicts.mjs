// Writes usda-verdicts.json: whether OpenUSD's own reader of text layers, as the
// npm package three-usdz-loader ships it compiled for browsers, takes each layer
// of the conformance corpus, and the first line that it blames if not.
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const require = createRequire(import.meta.url);
const packed = join(here, 'node_modules/three-usdz-loader');
const corpus = join(here, '../conformance/usda');

// members returns the files of a txtar archive, in order.
function members(text) {
	const out = [];
	for (const line of text.split(/(?<=\n)/)) {
		const head = /^-- (.*) --\n?$/.exec(line);
		if (head) out.push({ name: head[1], text: '' });
		else if (out.length) out[out.length - 1].text += line;
	}
	return out;
}

const marks = { '<BOM>': '\ufeff', '<CR>': '\r', '<VT>': '\v', '<NBSP>': '\u00a0' };
const unmarked = (s) => s.replace(/<(BOM|CR|VT|NBSP)>/g, (m) => marks[m]).replace(/<END>[^]*/, '');

// reader starts the module. Its script looks for a web page to load data from;
// the data are given to it instead.
async function reader(lines, folder) {
	let source = readFileSync(join(packed, 'external/emHdBindings.js'), 'utf8');
	for (const [from, to] of [
		["throw 'using preloaded data can only be done on a web page or in a web worker'", "PACKAGE_PATH = '/'"],
		['var loadPackage = function (metadata) {', "var loadPackage = function (metadata) { Module['preRun'] = Module['preRun'] || []; if (Module['ENVIRONMENT_IS_PTHREAD']) return;"],
		["Module['preRun'].slice()", "(Module['preRun'] || []).slice()"],
	]) {
		if (!source.includes(from)) throw new Error(`the reader's script has no ${from}`);
		source = source.replace(from, to);
	}
	const script = join(folder, 'reader.cjs');
	writeFileSync(script, source);
	globalThis.location = { pathname: '/' };
	const start = require(script);
	const data = readFileSync(join(packed, 'external/emHdBindings.data'));
	const say = (s) => lines.push(s);
	return start({
		print: say,
		printErr: say,
		preRun: [],
		wasmBinary: readFileSync(join(packed, 'external/emHdBindings.wasm')),
		getPreloadedPackage: () => data.buffer.slice(data.byteOffset, data.byteOffset + data.length),
		locateFile: (p) => join(packed, 'external', p),
	}, folder);
}

const nothing = new Proxy({}, { get: () => () => nothing });
const scene = { createRPrim: () => nothing, createBPrim: () => nothing, createSPrim: () => nothing, CommitResources() {} };

// verdict reads one layer beneath a root layer, so that what cannot be read is
// said. A file that the layer names and that is not there is no fault of its text.
function verdict(module, lines, text, i) {
	const name = `/layer${i}.usda`;
	module.FS.writeFile(name, text);
	const root = `/root${i}.usda`;
	module.FS.writeFile(root, `#usda 1.0\n(\n    subLayers = [@${name}@]\n)\n`);
	lines.length = 0;
	try {
		new module.HdWebSyncDriver(scene, root);
	} catch (e) {
		lines.push('error: ' + (e && e.message ? e.message : e));
	}
	const faults = lines.filter((s) => /on line \d+|Could not|Failed|error|skipping/i.test(s))
		.filter((s) => !/UsdVol|out of range, parsing as double/.test(s))
		.filter((s) => s.includes(`Could not load sublayer @${name}@`)
			|| !/Could not open|Could not load sublayer|Unresolved|Cycle detected|Layer path/.test(s));
	if (faults.length === 0) return { ok: true };
	const line = /on line (\d+)/.exec(faults.join('\n'));
	return line ? { ok: false, line: Number(line[1]) } : { ok: false };
}

const lines = [];
// Its threads read the script again, so the folder stays until the end.
const folder = mkdtempSync(join(tmpdir(), 'usda-verdicts-'));
process.on('exit', () => rmSync(folder, { recursive: true }));
const module = await reader(lines, folder);
const layers = {};
let i = 0;
for (const file of readdirSync(corpus).filter((f) => f.endsWith('.txtar')).sort()) {
	for (const m of members(readFileSync(join(corpus, file), 'utf8'))) {
		if (!/^(ok|bad): /.test(m.name)) continue;
		layers[`${file} ${m.name}`] = verdict(module, lines, unmarked(m.text), i++);
	}
}
const version = JSON.parse(readFileSync(join(packed, 'package.json'))).version;
const text = JSON.stringify({ source: `OpenUSD's reader in npm three-usdz-loader ${version}`, layers }, null, '\t') + '\n';
const target = join(here, 'usda-verdicts.json');
if (process.argv.includes('--check')) {
	if (readFileSync(target, 'utf8') !== text) {
		console.error('usda-verdicts.json is not what the reader says');
		process.exit(1);
	}
} else {
	writeFileSync(target, text);
	console.log(`${i} layers`);
}
// Its threads would wait for more work.
process.exit(0);
