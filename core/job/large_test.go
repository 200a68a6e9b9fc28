package job_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
)

// The large job: 60 findings of 5 options each, 120 positions, 8 lists of
// 5,000 rows. Everything is invented and made by rule, so that it is the same
// every time.
const (
	largeFindings, largeOptions = 60, 5
	largePositions              = 120
	largeLists, largeRows       = 8, 5000
	largeMusts                  = 20
	largeUndecided              = 16
)

var largeBooks = sync.OnceValue(func() *job.Books { return job.OpenBooks(nil, largeFiles()) })

func largeFiles() []job.File {
	files := []job.File{
		{Name: "shop.csv", Data: []byte("key,value,source\nname,Large,test\ncurrency,USD,test\nrate,80.00,test\nfee,80.00,test\nmarkup,25,test\ntax,8.00,test\ntax_on,parts,test\nsubcontract_markup,10,test\nallowance,10,test\nreserve,5,test\nmeter_percent,0,test\ndate_test,longest-lead,test\n")},
		{Name: "cards.csv", Data: []byte("type,aliases,kind,quantity,value,unit,system,source,mark\n6L6GC,,beam,plate volts,500,V,,test,user\n6L6GC,,beam,screen volts,450,V,,test,user\n6L6GC,,beam,plate watts,30,W,,test,user\n6L6GC,,beam,screen watts,5,W,,test,user\n6L6GC,,beam,heater volts,6.3 ±10%,V,,test,user\n6L6GC,,beam,gm low,0.003,S,,test,user\n6L6GC,,beam,gm high,0.006,S,,test,user\n5U4GB,,rectifier,first capacitor,40,µF,,test,user\n")},
	}
	terms := "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\n"
	for l := range largeLists {
		terms += fmt.Sprintf("L%d,USD,1,no,0,.,,Lead days,,\n", l)
	}
	files = append(files, job.File{Name: "terms.csv", Data: []byte(terms)})
	for l := range largeLists {
		files = append(files, job.File{Name: fmt.Sprintf("lists/L%d.csv", l), Data: largeList(l)})
	}
	return files
}

// largeList is one price list: capacitors, resistors and sundries over the
// usual values, prices spread by rule.
func largeList(l int) []byte {
	var b strings.Builder
	b.WriteString("Number,Description,Value,Volts,Price,Pack,Lead days\n")
	caps := []string{".001", ".0022", ".0047", ".01", ".02", ".022", ".033", ".047", ".1", ".22", ".47", "1"}
	bulk := []string{"1", "2.2", "4.7", "8", "10", "16", "20", "22", "25", "32", "40", "47", "50", "100", "220"}
	ohms := []string{"47R", "100R", "220R", "300R", "470R", "1k", "1.5k", "2.2k", "4.7k", "10k", "22k", "47k", "68k", "82k", "100k", "220k", "470k", "1M"}
	volts := []string{"25", "50", "63", "160", "250", "350", "400", "450", "500", "600", "630"}
	for i := range largeRows {
		n := i*7 + l*13
		price := fmt.Sprintf("%d.%02d", 1+n%9, (n*31)%100)
		var row string
		switch i % 4 {
		case 0:
			row = fmt.Sprintf("Film axial,%suF,%s", caps[n/4%len(caps)], volts[i/4%len(volts)])
		case 1:
			row = fmt.Sprintf("Axial electrolytic,%suF,%s", bulk[n/4%len(bulk)], volts[i/4%len(volts)])
		case 2:
			row = fmt.Sprintf("Metal film resistor 1W,%s,", ohms[n/4%len(ohms)])
		default:
			row = "Mains lead kit,,"
		}
		fmt.Fprintf(&b, "L%d-%04d,%s,%s,%d,%d\n", l, i, row, price, 1+i%3, 1+n%20)
	}
	return []byte(b.String())
}

// largeParts are the needs the options go round.
var largeParts = []struct{ is, at string }{
	{"electrolytic 22uF", "C"}, {"film or paper .02uF", "K"}, {"resistor 100k", "R"}, {"electrolytic 25uF", "B"}, {"film or paper .1uF", "K"}, {"resistor 220k", "R"},
}

type fields = map[string]any

// largeJob is the job's records. undecided many findings are left open to a
// best choice; the others are musts.
func largeJob(t testing.TB) *job.Job {
	t.Helper()
	file, err := record.Read(largeRecords(t))
	if err != nil {
		t.Fatal(err)
	}
	return job.Read(file)
}

func largeRecords(t testing.TB) []byte {
	t.Helper()
	var records []fields
	add := func(kind string, body fields) { records = append(records, fields{"kind": kind, "body": body}) }
	add("job", fields{"number": "L-1", "title": "Large"})
	add("bounds", fields{"ceiling": "100000.00", "days": "60"})
	add("mains", fields{"measured": "120", "low": "110", "high": "127"})
	add("amp", fields{"bias": "cathode", "alike": true})
	add("setup", fields{"id": "S1", "low": "0.4", "mode": "0.6", "high": "1.4"})
	add("setup", fields{"id": "S2", "low": "0.8", "mode": "1.0", "high": "1.8"})
	for _, p := range largeAmp() {
		add("position", p)
	}
	for _, r := range largeChart() {
		add("reading", r)
	}
	var accept []string
	for f := range largeFindings {
		id := fmt.Sprintf("F%d", f)
		pile := "must"
		if f >= largeMusts {
			pile = "should"
		}
		add("finding", fields{"id": id, "place": "board", "seen": "worn part " + id, "basis": "observed", "pile": pile, "no": "It gets worse.", "value": fmt.Sprint(1 + f%7)})
		for o := range largeOptions {
			add("option", largeOption(f, o))
		}
		accept = append(accept, fmt.Sprintf("F%d/0", f))
	}
	add("set", fields{"name": "all", "accept": accept})
	add("pick", fields{"name": "all"})
	data, err := json.Marshal(fields{"format": 1, "records": records})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// largeOption is one option: every second one names its offer, as a plan does
// once it is settled; some change the output stage.
func largeOption(f, o int) fields {
	p := largeParts[(f+o)%len(largeParts)]
	var at []string
	for k := range 2 {
		at = append(at, fmt.Sprintf("%s%d", p.at, (f*3+o+k)%20))
	}
	part := fields{"qty": "2", "is": p.is, "for": at}
	if o%2 == 0 {
		n := f*5 + o
		part["list"], part["number"] = fmt.Sprintf("L%d", n%largeLists), fmt.Sprintf("L%d-%04d", n%largeLists, n*4%largeRows)
	}
	parts := []fields{part}
	if f == 7 {
		parts = append(parts, fields{"qty": "1", "is": "wirewound 300R", "for": []string{"RK"}, "list": "L1", "number": "L1-0002"})
	}
	return fields{"id": fmt.Sprintf("F%d/%d", f, o), "finding": fmt.Sprintf("F%d", f), "task": fmt.Sprintf("F%d-%d", f, o), "say": "change it",
		"low": "0.2", "mode": "0.3", "high": fmt.Sprintf("0.%d", 4+o), "setups": []string{"S1", "S2"}, "parts": parts, "look": "modern", "matter": "bagged", "undo": "U1"}
}

// largeAmp lists 120 positions.
func largeAmp() []fields {
	var out []fields
	add := func(ref, kind, value, rating, nodes, extra string) {
		out = append(out, fields{"id": ref, "ref": ref, "kind": kind, "value": value, "rating": rating, "nodes": nodes, "extra": extra})
	}
	add("HT", "winding", "600", "", "a=HA ct=0 b=HB", "role=high-winding")
	add("LV", "winding", "6.3", "", "a=H1 b=H2", "role=heater-winding")
	for _, v := range []string{"V1", "V2", "V3", "V4"} {
		out = append(out, fields{"id": v, "ref": v, "kind": "beam", "type": "6L6GC", "nodes": "plate=P screen=S grid=G" + v + " cathode=K", "extra": "role=output-tube"})
	}
	add("RK", "resistor", "250", "5W", "a=K b=0", "role=cathode-resistor")
	for i := range 20 {
		role := "smoothing"
		if i == 0 {
			role = "reservoir"
		}
		add(fmt.Sprintf("C%d", i), "electrolytic", "20uF", "450V", fmt.Sprintf("plus=B%d minus=0", i), "role="+role)
		add(fmt.Sprintf("K%d", i), "paper capacitor", ".02uF", "400V", fmt.Sprintf("a=PA%d b=GA%d", i, i), "role=coupler")
		add(fmt.Sprintf("R%d", i), "resistor", "100k", "1W", fmt.Sprintf("a=B%d b=PA%d", i, i), "role=plate-load")
		add(fmt.Sprintf("B%d", i), "electrolytic", "25uF", "25V", fmt.Sprintf("plus=Q%d minus=0", i), "role=cathode-bypass")
	}
	for i := len(out); i < largePositions; i++ {
		add(fmt.Sprintf("G%d", i), "resistor", "220k", "1/2W", fmt.Sprintf("a=GB%d b=0", i), "role=grid-leak")
	}
	return out
}

func largeChart() []fields {
	var out []fields
	for _, r := range [][3]string{{"HT", "rms volts", "300"}, {"P", "volts", "390"}, {"S", "volts", "370"}, {"K", "volts", "28"}, {"LV", "rms volts", "6.3"},
		{"V1:screen", "current", "4 mA"}, {"V2:screen", "current", "4 mA"}, {"V3:screen", "current", "4 mA"}, {"V4:screen", "current", "4 mA"}, {"RK", "ohms", "251"}} {
		state, mains := "powered", "117.0"
		switch {
		case r[0] == "HT":
			state = "no-load"
		case r[1] == "ohms":
			state, mains = "off", ""
		}
		out = append(out, fields{"id": fmt.Sprintf("r%d", len(out)), "at": r[0], "quantity": r[1], "value": r[2], "mains": mains, "state": state, "meter_percent": "0"})
	}
	return out
}
