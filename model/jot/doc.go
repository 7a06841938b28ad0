// Package jot reads a line as the trade writes it ("ju 1432", "brook refused",
// "kestrel ate rat 60 frozen") as what it may say, and says it again in one fixed
// form. Nothing is guessed: a line that can be two things has two readings, and a
// word that nobody understands is a problem, never left out.
//
// The grammar, in EBNF. Between two words stands a space or a comma; capitals
// mean nothing; trade words are those of the lexicon, in any of its languages.
//
//	line    = { when | filler } whom { what | when | filler } [ note ] | question .
//	question = { when | filler } ( "question" { when | filler } whom | whom { when | filler } "question" ) [ ":" ] text .
//	                                                     (to a vet, about one animal; text to the end of the line)
//	whom    = ( who | "all" | place ) { ( "," | "and" ) who } [ "but" who { ( "," | "and" ) who } ] .
//	who     = name | code | place | box | beginning | quote ( name | code | place ) quote .
//	what    = weight | meal | shed | blue | waste | mites | clean .    (of one line all the same)
//	weight  = mass | "weighs" | gut .                    (in any order, mass needed)
//	meal    = outcome | [ count ] prey | size | state | mass .   (outcome needed)
//	shed    = "shed" | skin | caps | tip .               ("shed" or skin needed)
//	blue    = "in blue" .
//	waste   = { trait } ( "faeces" | "urates" ) { trait } .
//	mites   = ( "mites" | "paper" ) | grade .            (both needed)
//	clean   = extent .                                   (of boxes alone)
//	note    = "note" [ ":" ] text .                      (text to the end of the line)
//	mass    = number [ unit ] | number unit number unit .
//	count   = number "x" | "x" number | number .
//	grade   = "0" … "4" | grade word .
//	when    = day | time .                               (at most one of each)
//	day     = "today" | "yesterday" | weekday | d "." m [ "." [ year ] ] | d month [ year ] |
//	          month d | year "-" m "-" d | n "days ago" | "vor" n "Tagen" .
//	time    = h ":" m [ "am" | "pm" | "Uhr" ] | h "." m | h ( "am" | "pm" | "Uhr" ) .
//
// What the grammar leaves open is settled thus:
//
//   - A name, code, place or trade word in full comes before the beginning of a
//     longer name. A beginning that several names have is a reading for each.
//   - A box stands for the animal in it, but for a cleaning, which is of the box; of two
//     in it there is a reading for each, of an empty one none. The beginning of a
//     box's name names nothing.
//   - A number without a unit at a meal is the mass of one prey item. Where it stands
//     before a word for several ("2 rats") it is their count; before a word for one
//     ("2 rat"), behind a word for several ("rats 2"), and up to 9 anywhere, it may
//     be either.
//   - A number like 1.432, which may be thousands or a decimal, is both, unless the
//     unit or the window's language settles it, as in every field of the program.
//   - A weekday is the last such day; on that day itself it may be today or a week ago.
//   - A question names one animal, or what one lives in: what is behind it is asked, be it
//     a name or a trade word. Where two names may begin it there is a reading for each.
//   - Traits between "faeces" and "urates" may belong to either; a comma parts them.
package jot
