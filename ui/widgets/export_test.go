package widgets

// BreakLines is breakLines.
var BreakLines = breakLines
