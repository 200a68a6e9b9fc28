module lugworth

go 1.26

require (
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/gocarina/gocsv v0.0.0-20240520201108-78e41c74b4b1
	github.com/rs/xid v1.6.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	golang.org/x/tools v0.45.0
	honnef.co/go/js/dom/v2 v2.0.0-20231112215516-51f43a291193
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	golang.org/x/text v0.14.0 // indirect
)
