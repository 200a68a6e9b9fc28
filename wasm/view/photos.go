package view

import (
	"strconv"

	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

var stepWords = map[finding.Step]string{finding.Before: "Before", finding.During: "During", finding.After: "After"}

// findingPhotos shows what was photographed of a finding, and takes more.
func findingPhotos(m app.Model, id string) keyed.Item {
	photos := m.PhotosOf(id)
	rows := make([]keyed.Node, 0, len(photos))
	for i, p := range photos {
		rows = append(rows, keyed.Row("li", "photo-"+p.ID[:min(16, len(p.ID))], thumb(m, p, i+1)))
	}
	return keyed.Several(keyed.If(len(rows) > 0, keyed.El("ul", keyed.Class("photos"), keyed.Attr("aria-label", "Photos of "+id), keyed.Nodes(rows...))),
		part.Presses(
			photoPress("Take a photo", id, "camera"),
			photoPress("Choose pictures", id, "file")))
}

func photoPress(say, id, from string) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.ID("photo-add-"+from+"-"+id), keyed.Do("photo-add", id), keyed.Attr("value", from), keyed.Text(say))
}

// photoName says which photo it is: "Photo 2 of A2, before".
func photoName(p finding.Photo, n int) string {
	name := "Photo"
	if n > 0 {
		name += " " + itoa(n)
	}
	return joined(", ", name+" of "+orWords(p.Finding, "the amp"), string(p.Step), string(p.Say))
}

func thumb(m app.Model, p finding.Photo, n int) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("photo"), keyed.Do("photo-open", p.ID), keyed.Attr("aria-label", photoName(p, n)),
		photoSight(m, p, n), keyed.El("span", keyed.Class("photo-step"), keyed.Text(orWords(stepWords[p.Step], "No step"))))
}

// photoSight is the picture, or why there is none to see.
func photoSight(m app.Model, p finding.Photo, n int) keyed.Item {
	url := m.Photos.Shown[p.ID]
	switch {
	case url != "":
		return keyed.El("img", keyed.Live("src", url), keyed.Attr("alt", photoName(p, n)))
	case m.Photos.Gone[p.ID]:
		return keyed.El("span", keyed.Class("photo-none"), keyed.Text("Its bytes are not on this device. Open the backup that holds them."))
	}
	return keyed.El("span", keyed.Class("photo-none"), keyed.Text("Loading"))
}

// photoDialog is one photo large, with what it shows.
func photoDialog(m app.Model) (keyed.Node, bool) {
	if m.Open == nil {
		return keyed.Node{}, false
	}
	for _, p := range m.Open.Job.Photos {
		if p.ID != m.Screen.Target {
			continue
		}
		say := field(m, p.ID, job.KindPhoto+"/say", "What it shows", string(p.Say))
		say.ID, say.Hint = "photo-say", "lead dress before the can came out"
		var steps []keyed.Item
		for _, s := range []finding.Step{finding.Before, finding.During, finding.After} {
			steps = append(steps, doChip("photo-step", p.ID, "", string(s), stepWords[s], "", p.Step == s))
		}
		return part.Dialog("photo-dialog", photoName(p, 0), "dialog-close", "",
			keyed.El("div", keyed.Class("photo-large"), photoSight(m, p, 0)),
			group("When in the work", "chips", steps...), say.Item(),
			part.Facts(part.Fact("Taken up", keyed.Text(day(p.At))), part.Fact("Size", keyed.Text(size(string(p.Bytes)))),
				part.Fact("Fingerprint", keyed.El("span", keyed.Class("whole"), keyed.Text(p.ID[:min(16, len(p.ID))])))),
			part.Note("Place, time and device that a camera writes into a picture were taken out before it was kept."),
			part.Presses(part.Press("quiet", "Take this photo out", "photo-remove", p.ID))), true
	}
	return keyed.Node{}, false
}

// size is a number of bytes in words: "312 kB".
func size(bytes string) string {
	n, err := strconv.Atoi(bytes)
	switch {
	case err != nil:
		return "not stated"
	case n < 1000:
		return itoa(n) + " bytes"
	case n < 1_000_000:
		return itoa((n+500)/1000) + " kB"
	}
	return strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64) + " MB"
}
