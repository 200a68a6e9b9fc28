"use strict";
const marks = "CFGHJKMPQRTVWXY3479", most = 6857, base = marks.length;
const words = "Charlie Foxtrot Golf Hotel Juliett Kilo Mike Papa Quebec Romeo Tango Victor Whiskey X-ray Yankee three four seven nine".split(" ");

// group writes one value as three signs and a check sign.
function group(number, value) {
	let check = 7 * number, signs = "";
	for (const weight of [2, 3, 5]) {
		const digit = value % base;
		value = (value - digit) / base;
		check += weight * digit;
		signs += marks[digit];
	}
	return signs + marks[check % base];
}

// codeOf writes ticks as a code of the estimate that the seal is of.
function codeOf(seal, sizes, ticks) {
	const [mark, factor, start] = seal, values = [];
	let value = 0, room = 1, h = start;
	sizes.forEach((size, i) => {
		if (room * size > most) {
			values.push(value);
			value = 0, room = 1;
		}
		value += ticks[i] * room;
		room *= size;
	});
	values.push(value);
	for (const v of values) h = (h * factor + v + 1) % most;
	return [mark, ...values, h].map((v, i) => group(i + 1, v)).join("-");
}

// spell is a code as it is read out.
function spell(code) {
	return code.split("-").map(g => [...g].map(s => words[marks.indexOf(s)]).join(" ")).join(", ");
}

// money writes an amount of minor units.
function money(amount, decimals) {
	const s = String(Math.abs(amount)).padStart(decimals + 1, "0"), cut = s.length - decimals;
	return (amount < 0 ? "-" : "") + s.slice(0, cut) + (decimals ? "." + s.slice(cut) : "");
}

// totals gives what is known of a choice: its total, null where it is not to
// be had, undefined where nobody reckoned it.
function totals(table, known, radices) {
	const read = t => t === "-" ? null : parseInt(t, 36);
	if (table) {
		const all = table.split(" ");
		return ks => {
			let at = 0, step = 1;
			ks.forEach((k, i) => { at += k * step; step *= radices[i]; });
			return read(all[at]);
		};
	}
	const some = new Map(known.split(" ").filter(Boolean).map(k => k.split(":")));
	return ks => some.has(ks.join(".")) ? read(some.get(ks.join("."))) : undefined;
}

function start() {
	const slip = document.getElementById("slip"), data = slip.dataset, decimals = Number(data.decimals);
	const put = (id, text) => { document.getElementById(id).textContent = text; };
	const asked = [...slip.querySelectorAll("fieldset")].map(f => ({
		alone: Number(f.dataset.alone), radix: (Number(f.dataset.alone) + 1) * 2 ** Number(f.dataset.beside),
		ways: [...f.querySelectorAll("[data-id]")], said: [...f.querySelectorAll("[value=no], [value=think]")],
	}));
	const total = totals(data.table, data.known, asked.map(q => q.radix));
	// pick is the number of the ways that are ticked, with one more ticked.
	const pick = (q, more) => q.ways.reduce((k, w, i) => {
		const on = w === more || w.checked && !(more && i < q.alone && q.ways.indexOf(more) < q.alone);
		return on ? k + (i < q.alone ? i + 1 : (q.alone + 1) * 2 ** (i - q.alone)) : k;
	}, 0);
	const answered = q => q.said.some(s => s.checked) || pick(q) > 0;
	const say = t => t === undefined ? "ask the shop for the total of this combination" : t === null ? "not offered with the other ticks as they are: ask the shop" : "at most " + money(t, decimals) + " in all";

	// lacking names the first way that is ticked without one it needs.
	const lacking = () => {
		const all = asked.flatMap(q => q.ways);
		for (const w of all) for (const id of w.checked && w.dataset.needs ? w.dataset.needs.split("\n") : [])
			if (!all.some(o => o.checked && o.dataset.id === id)) return w.dataset.id + " needs " + id + " as well";
		return "";
	};
	const show = () => {
		const ks = asked.map(q => pick(q)), now = total(ks), open = asked.filter(q => !answered(q)).length, lacks = lacking();
		asked.forEach((q, i) => q.ways.forEach(w => {
			w.parentElement.querySelector(".owner-then").textContent = w.checked ? "Ticked" : "With this ticked: " + say(total(ks.map((k, j) => j === i ? pick(q, w) : k)));
		}));
		put("total", now === undefined ? "ask the shop" : now === null ? "not offered so" : money(now, decimals));
		const left = Number(data.most) - now;
		put("left", !data.most || !now && now !== 0 ? "" : left < 0 ? money(-left, decimals) + " over your ceiling of " + money(Number(data.most), decimals) : money(left, decimals) + " under your ceiling of " + money(Number(data.most), decimals));
		put("count", lacks || (asked.length - open) + " of " + asked.length + " answered");
		let why = open ? "not yet: " + open + " of " + asked.length + " findings have no answer" : lacks ? "not yet: " + lacks : now === null ? "not yet: what is ticked is not offered together" : "";
		const code = why ? "" : codeOf(data.seal.split(" ").map(Number), asked.map(q => q.radix + 1), asked.map((q, i) => ks[i] ? ks[i] + 1 : q.said[0].checked ? 1 : 0));
		const at = document.getElementById("code");
		if (at.textContent !== (code || why)) at.textContent = code || why;
		at.className = "owner-signs" + (code ? "" : " none");
		put("spelled", code && "To read out: " + spell(code));
	};
	slip.addEventListener("change", e => {
		const q = asked.find(q => q.ways.includes(e.target) || q.said.includes(e.target));
		if (!q) return;
		if (q.said.includes(e.target)) q.ways.forEach(w => { w.checked = false; });
		else q.said.forEach(s => { s.checked = false; });
		show();
	});
	const tick = ks => {
		asked.forEach((q, i) => {
			const alone = ks[i] % (q.alone + 1), beside = Math.floor(ks[i] / (q.alone + 1));
			q.said.forEach(s => { s.checked = false; });
			q.ways.forEach((w, j) => { w.checked = j < q.alone ? j + 1 === alone : Math.floor(beside / 2 ** (j - q.alone)) % 2 === 1; });
		});
		show();
	};
	document.getElementById("as-estimate").addEventListener("click", () => tick(data.start.split(".").map(Number)));
	document.getElementById("clear").addEventListener("click", () => tick(asked.map(() => 0)));
	slip.addEventListener("submit", e => e.preventDefault());
	show();
}
if (typeof document === "object") start();
