package paper

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model/people"
)

// CardRoles are whom an emergency card names, SitterRoles whom the paper for
// whoever looks after the animals does: in that order.
func CardRoles() []people.Role { return []people.Role{people.Vet, people.OutOfHours} }

// SitterRoles are those of the card and who usually looks after the animals.
func SitterRoles() []people.Role { return append(CardRoles(), people.Hand) }

// Callable are those of the people who have one of the roles, in the order of the
// roles.
func Callable(all []people.Stored, roles []people.Role) []people.Stored {
	var out []people.Stored
	for _, role := range roles {
		for _, p := range all {
			if p.Is(role) && !slices.ContainsFunc(out, func(q people.Stored) bool { return q.ID == p.ID }) {
				out = append(out, p)
			}
		}
	}
	return out
}

// Open are those who are not private.
func Open(all []people.Stored) []people.Stored {
	var out []people.Stored
	for _, p := range all {
		if !p.Private {
			out = append(out, p)
		}
	}
	return out
}

// calls words whom to call; a role that nobody has gets a line to write on.
func calls(text Text, called []people.Stored) []Block {
	var blocks []Block
	for _, p := range called {
		var roles []string
		for _, role := range p.Roles {
			if slices.Contains(SitterRoles(), role) {
				roles = append(roles, text.Say("people.role."+string(role)))
			}
		}
		one := Keep{Paragraph{capital(strings.Join(roles, ", ")), smallBold.In(Accent)}, Paragraph{Strong(Clean(p.Name)), textStyle}}
		for _, phone := range p.Phones {
			number, words := parted(Clean(phone))
			one = append(one, Paragraph{number, sayStyle})
			if words != "" {
				one = append(one, Paragraph{words, smallStyle})
			}
		}
		if len(p.Phones) == 0 {
			one = append(one, Signatures{text.Say("paper.call.no-number")})
		}
		if p.Address != "" {
			one = append(one, Paragraph{strings.Join(strings.Fields(strings.ReplaceAll(Clean(p.Address), "\n", ", ")), " "), smallStyle})
		}
		blocks = append(blocks, one)
	}
	for _, role := range CardRoles() {
		if !slices.ContainsFunc(called, func(p people.Stored) bool { return p.Is(role) }) {
			blocks = append(blocks, Keep{Paragraph{capital(text.Say("people.role." + string(role))), smallBold.In(Accent)}, Signatures{text.Say("paper.call.nobody")}})
		}
	}
	return blocks
}

// parted is a phone number and the words that stand behind it, such as its hours.
// One that begins with words stays whole.
func parted(phone string) (number, words string) {
	i := strings.IndexFunc(phone, func(r rune) bool { return r == '(' && phone[0] != '(' || unicode.IsLetter(r) || r == ',' || r == ';' })
	if i <= 0 {
		return phone, ""
	}
	return strings.TrimSpace(phone[:i]), strings.TrimSpace(strings.Trim(phone[i:], ",;"))
}

// capital is a text with its first letter large, as it stands at a head.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
