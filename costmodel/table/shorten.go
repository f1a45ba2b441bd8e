package table

import (
	"fmt"
	"unicode/utf16"
	"unicode/utf8"
)

// MostEchoed is how many characters of a user's own text a message repeats: a cell holds up to 32,767, and a line of them
// hides what is wrong.
const MostEchoed = 120

// Shortened is a text as a message repeats it: whole, or its beginning and how long it is.
func Shortened(text string) string {
	return beginning(text, MostEchoed, MostEchoed*3/4)
}

// mostExplained is how many characters of an expression or a text an explanation prints; those of the library are shorter.
const mostExplained = 600

// ShortExpression is an expression as an explanation prints it: whole, or its beginning and how long it is.
func ShortExpression(text string) string {
	return beginning(text, mostExplained, mostExplained)
}

// beginning is a text of at most so many characters, or the first ones of a longer text and how long it is.
func beginning(text string, most, first int) string {
	if len(text) <= most {
		return text
	}
	n := utf8.RuneCountInString(text)
	if n <= most {
		return text
	}
	from := 0
	for range first {
		_, size := utf8.DecodeRuneInString(text[from:])
		from += size
	}
	return fmt.Sprintf("%s... (%d characters)", text[:from], n)
}

// ShortenedAt is a text of which a character, counted from 1, is at fault: whole, or what stands around it.
func ShortenedAt(text string, char int) string {
	runes := []rune(text)
	if len(runes) <= MostEchoed || char <= MostEchoed/2 {
		return Shortened(text)
	}
	from := min(char-MostEchoed/3, len(runes)-MostEchoed/2)
	to := min(len(runes), from+MostEchoed*2/3)
	out := "..." + string(runes[from:to])
	if to < len(runes) {
		out += "..."
	}
	return fmt.Sprintf("%s (%d characters)", out, len(runes))
}

// mostSaid is how many bytes a message may have, whatever it repeats; the words at its end say what is wrong.
const mostSaid = 2_000

// Brief is a message without its middle where it is too long to be read. It never cuts a character.
func Brief(message string) string {
	if len(message) <= mostSaid {
		return message
	}
	from, to := mostSaid/2, len(message)-mostSaid/4
	for !utf8.RuneStart(message[from]) {
		from--
	}
	for !utf8.RuneStart(message[to]) {
		to++
	}
	return message[:from] + " ... " + message[to:]
}

// Characters counts a text as spreadsheet programs do, in UTF-16 units.
func Characters(text string) int {
	n := 0
	for _, r := range text {
		n += utf16.RuneLen(r)
	}
	return n
}
