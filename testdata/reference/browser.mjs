// The loaders are made for browsers. This gives them the few things that Node
// lacks; import it before any loader.
import { DOMParser } from '@xmldom/xmldom';

globalThis.self ??= globalThis;
globalThis.DOMParser ??= DOMParser;
globalThis.ProgressEvent ??= class extends Event {
	constructor(type, init = {}) {
		super(type);
		Object.assign(this, init);
	}
};
// Pictures are asked for and never come: no matter here.
globalThis.document ??= {
	createElementNS: () => ({ addEventListener() {}, removeEventListener() {} }),
};
// The loaders greet and advise on every file.
console.debug = console.log = console.warn = console.error = () => {};
