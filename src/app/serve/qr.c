/* libqrencode makes the modules; here they get their quiet zone of four and a shape. */
#include "app/serve/qr.h"

#include "app/serve/libraries.h"

enum { QUIET = 4 };

static void
code_free(QRcode *code)
{
    lib.QRcode_free(code);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC(QRcode, code_free)

static QRcode *
encode(const char *text)
{
    return libraries_open(NULL) ? lib.QRcode_encodeString(text, 0, QR_ECLEVEL_M, QR_MODE_8, 1)
                                : NULL;
}

static bool
is_dark(const QRcode *code, int x, int y)
{
    return x >= 0 && y >= 0 && x < code->width && y < code->width &&
           (code->data[y * code->width + x] & 1) != 0;
}

/* Colours are stated, for terminals are dark as often as light. */
char *
qr_blocks(const char *text)
{
    static const char *const halves[] = {" ", "\u2584", "\u2580",
                                         "\u2588"}; /* none, lower, upper, both */
    g_autoptr(QRcode) code = encode(text);
    if (code == NULL)
        return NULL;
    GString *out = g_string_new(NULL);
    for (int y = -QUIET; y < code->width + QUIET; y += 2) {
        g_string_append(out, "\033[30;107m");
        for (int x = -QUIET; x < code->width + QUIET; x++)
            g_string_append(out, halves[is_dark(code, x, y) * 2 + is_dark(code, x, y + 1)]);
        g_string_append(out, "\033[0m\n");
    }
    return g_string_free(out, FALSE);
}

bool
qr_svg(Markup *markup, const char *text, const char *title)
{
    g_autoptr(QRcode) code = encode(text);
    if (code == NULL)
        return false;
    g_autoptr(GString) dark = g_string_new(NULL);
    for (int y = 0; y < code->width; y++)
        for (int x = 0; x < code->width; x++)
            if (is_dark(code, x, y))
                g_string_append_printf(dark, "M%d %dh1v1h-1z", x + QUIET, y + QUIET);
    g_autofree char *side = g_strdup_printf("%d", code->width + 2 * QUIET);
    g_autofree char *box = g_strdup_printf("0 0 %s %s", side, side);
    markup_open(markup, "svg", "class", "qr", "role", "img", "viewBox", box, "aria-label", title,
                "shape-rendering", "crispEdges", NULL);
    markup_empty(markup, "rect", "width", side, "height", side, "fill", "#ffffff", NULL);
    markup_empty(markup, "path", "d", dark->str, "fill", "#000000", NULL);
    markup_close(markup);
    return true;
}
