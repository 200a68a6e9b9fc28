package catalogs

import _ "embed"

// A File is one file of the sample shop, under the name it is brought by.
type File struct {
	Name string
	Data []byte
}

//go:embed shop.csv
var shopSheet []byte

//go:embed tasks.csv
var tasks []byte

//go:embed terms.csv
var terms []byte

//go:embed list-dunmere.csv
var dunmere []byte

//go:embed list-velderhof.csv
var velderhof []byte

//go:embed list-ostrand.csv
var ostrand []byte

// Demo is the demo job: an invented amp, so that there is something to look
// at before the first real one.
//
//go:embed demo.job.json
var Demo []byte

// Shop returns the files of an invented shop, in force until the user brings
// their own.
func Shop() []File {
	return []File{
		{"shop.csv", shopSheet}, {"tasks.csv", tasks}, {"terms.csv", terms},
		{"lists/dunmere.csv", dunmere}, {"lists/velderhof.csv", velderhof}, {"lists/ostrand.csv", ostrand},
	}
}
