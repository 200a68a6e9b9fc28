package shop

import (
	"fmt"
	"strconv"
	"strings"
)

// day is a day in minutes.
const day = 24 * 60

// ReadWait reads how long something dries or settles, in minutes: "24 h",
// "36 hours", "2 days", "90 min".
func ReadWait(text string) (minutes int, err error) {
	number := strings.TrimRight(strings.ToLower(text), " abcdefghijklmnopqrstuvwxyz")
	unit := strings.TrimSpace(strings.ToLower(text)[len(number):])
	n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	each := map[string]float64{"min": 1, "minutes": 1, "h": 60, "hour": 60, "hours": 60, "day": day, "days": day}[unit]
	if err != nil || each == 0 || !(n >= 0) || n*each > 366*day {
		return 0, fmt.Errorf("%q is no wait of up to a year, such as 24 h or 2 days", text)
	}
	return int(n*each + 0.5), nil
}
