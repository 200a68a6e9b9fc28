package job

// HushSpelled is hushSpelled for its test.
var HushSpelled = hushSpelled
