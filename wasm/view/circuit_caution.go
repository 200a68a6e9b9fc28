package view

import (
	"slices"
	"sync"

	"lugworth/catalogs"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

var allCautions = sync.OnceValue(func() []catalogs.Caution {
	list, _ := catalogs.ReadCautions(catalogs.Cautions) // a test of the catalog reads it
	return list
})

var cautionTitles = map[string]string{
	"live-readings": "Live readings", "winding-drop": "Winding drop", "stored-charge": "Stored charge", "no-bias": "Bias first", "load": "Keep the load on", "hot-glass": "Hot glass", "work-rules": "One hand, not alone",
}

// cautionWords is a caution of the catalog, in its own words.
func cautionWords(id string) keyed.Item {
	i := slices.IndexFunc(allCautions(), func(c catalogs.Caution) bool { return c.ID == id })
	if i < 0 {
		return keyed.Item{}
	}
	c := allCautions()[i]
	return part.Caution(orWords(cautionTitles[id], capital(c.When)), c.Says+memoryMark(c.Mark))
}
