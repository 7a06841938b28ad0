// Package calendar writes what is due in the coming weeks as a calendar that other
// programs read (iCalendar, RFC 5545).
package calendar
