// Keeps one whole version of the page's files, so that it starts without a
// network. Another version waits until the person takes it.
"use strict";
const name = "lugworth {{version}}";
const files = {{files}};
const scope = new URL("./", self.location);

self.addEventListener("install", (e) => e.waitUntil(
	caches.open(name).then((c) => c.addAll(files.map((f) => new Request(f, { cache: "no-cache" }))))));

self.addEventListener("activate", (e) => e.waitUntil(
	caches.keys().then((all) => Promise.all(all.filter((k) => k.startsWith("lugworth ") && k !== name).map((k) => caches.delete(k))))));

self.addEventListener("message", (e) => { if (e.data === "take over") self.skipWaiting(); });

self.addEventListener("fetch", (e) => {
	const url = new URL(e.request.url);
	if (e.request.method !== "GET" || url.origin !== scope.origin || url.pathname.startsWith(scope.pathname + "api/")) return;
	const key = e.request.mode === "navigate" ? "./" : e.request;
	e.respondWith(caches.open(name).then((c) => c.match(key)).then((kept) => kept || fetch(e.request)));
});
