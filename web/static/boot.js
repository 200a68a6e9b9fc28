// Starts the program. If it cannot start, or stops, the page says so: what was
// shown as saved is kept either way.
"use strict";
(() => {
	const stopped = (why) => {
		console.error(why);
		const box = document.getElementById("stopped");
		box.textContent = "The program has stopped (" + why + "). What was shown as saved is kept. Load the page again.";
		box.hidden = false;
	};
	if (typeof WebAssembly !== "object" || !WebAssembly.instantiateStreaming) {
		stopped("this browser is too old for it");
		return;
	}
	const go = new Go();
	WebAssembly.instantiateStreaming(fetch("app.wasm"), go.importObject)
		.then((ready) => go.run(ready.instance))
		.then(() => stopped("it ended by itself"), (err) => stopped(String(err)));
})();
