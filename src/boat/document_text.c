/* The bytes of a boat file, judged before any parser sees them.
 *
 * libfyaml lets bad UTF-8 and control characters through and reads UTF-16 as an empty document
 * without an error, so this is the only door. Invariant: what passes is UTF-8 of at most 4 MiB
 * without invisible characters. */
#include "boat/document_internal.h"

#include <string.h>

typedef struct {
    unsigned line, column;
} Spot;

static Spot
spot_of(const char *text, const char *at)
{
    Spot spot = {1, 1};
    for (const char *p = text; p < at; p++) {
        if (*p == '\n') {
            spot.line++;
            spot.column = 1;
        } else if (((unsigned char) *p & 0xC0) != 0x80) {
            spot.column++;
        }
    }
    return spot;
}

static void
refuse(Diagnostics *notes, const char *text, const char *at, const char *why)
{
    Spot spot = spot_of(text, at);
    diagnostics_add(notes, NOTE_ERROR, spot.line, spot.column, NULL, "%s", why);
}

bool
document_forbids(gunichar c)
{
    if (c < 0x20)
        return c != '\t' && c != '\n' && c != '\r';
    return (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029 || c == 0xFEFF ||
           (c & 0xFFFE) == 0xFFFE;
}

static bool
looks_utf16(const char *text, gsize length)
{
    return length >= 2 && (memcmp(text, "\xFF\xFE", 2) == 0 || memcmp(text, "\xFE\xFF", 2) == 0);
}

static bool
characters_clean(const char *text, gsize length, Diagnostics *notes)
{
    const char *end = text + length;
    const char *p = text;
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
        p += 3;
    for (; p < end; p = g_utf8_next_char(p)) {
        unsigned char byte = (unsigned char) *p;
        if (byte >= 0x20 && byte < 0x7F) {
            continue;
        }
        gunichar c = g_utf8_get_char(p);
        if (c == '\r' && (p + 1 == end || p[1] != '\n')) {
            refuse(notes, text, p, "a carriage return stands alone; lines end in LF or CR LF");
            return false;
        }
        if (document_forbids(c)) {
            g_autofree char *why = g_strdup_printf(
                "the invisible character U+%04X is not allowed here; type the line again", c);
            refuse(notes, text, p, why);
            return false;
        }
    }
    return true;
}

bool
document_text_clean(const char *text, gsize length, Diagnostics *notes)
{
    const char *bad;
    if (length > DOCUMENT_MAX_BYTES) {
        diagnostics_add(notes, NOTE_ERROR, 0, 0, NULL,
                        "the file has %" G_GSIZE_FORMAT
                        " bytes; a boat file has at most 4 MiB (4194304 bytes)",
                        length);
        return false;
    }
    if (looks_utf16(text, length)) {
        diagnostics_add(notes, NOTE_ERROR, 1, 1, NULL,
                        "the file is saved as UTF-16; save it as UTF-8");
        return false;
    }
    const char *nul = length == 0 ? NULL : memchr(text, '\0', length);
    if (nul != NULL) {
        refuse(notes, text, nul,
               "a NUL byte stands here: this is no text file; a boat file is YAML text in UTF-8");
        return false;
    }
    if (length > 0 && !g_utf8_validate_len(text, length, &bad)) {
        refuse(notes, text, bad, "this byte is no UTF-8; save the file as UTF-8");
        return false;
    }
    return characters_clean(text, length, notes);
}
