/* Texts and where they stand. No label is placed on ground that is taken; what finds no room is not
 * drawn. */
#include "draw/canvas.h"

#include <math.h>
#include <string.h>

/* Between a narrow sans (Helvetica) and a wide one (DejaVu, Verdana), in ems. */
static double
letter_width(gunichar c)
{
    if (c < 128 && strchr("ijl.,:;'|!`", (int) c) != NULL)
        return 0.30;
    if (c < 128 && strchr("frt ()[]/-", (int) c) != NULL)
        return 0.38;
    if (c == 'm' || c == 'w' || c == 'M' || c == 'W' || c == '%' || c == '@')
        return 0.92;
    if (c >= 0x2000 && c <= 0x200a)
        return 0.30;
    if (g_unichar_isupper(c))
        return 0.70;
    return g_unichar_iswide(c) ? 1.1 : 0.58;
}

double
text_width(const char *text)
{
    double ems = 0.0;
    for (const char *at = text; *at != '\0';) {
        gunichar c = g_utf8_get_char_validated(at, -1);
        bool readable = c != (gunichar) -1 && c != (gunichar) -2;
        ems += readable ? letter_width(c) : 1.0;
        at = readable ? g_utf8_next_char(at) : at + 1;
    }
    return ems * TEXT_SIZE;
}

char *
text_fitted(const char *text, double width)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    if (text_width(valid) <= width)
        return g_steal_pointer(&valid);
    double room = width - text_width("...");
    double used = 0.0;
    char *end = valid;
    while (*end != '\0') {
        double next = letter_width(g_utf8_get_char(end)) * TEXT_SIZE;
        if (used + next > room)
            break;
        used += next;
        end = g_utf8_next_char(end);
    }
    *end = '\0';
    g_strchomp(valid);
    return g_strconcat(valid, "...", NULL);
}

char *
name_plain(const char *name)
{
    bool id = name[strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789-")] == '\0';
    return id ? g_strdelimit(g_strdup(name), "-", ' ') : g_strdup(name);
}

static const char *const anchors[] = {NULL, "middle", "end"};

void
draw_text(Canvas *canvas, const char *classes, double x, double y, Anchor anchor, const char *text)
{
    if (!isfinite(x) || !isfinite(y) || *text == '\0')
        return;
    Markup *svg = canvas->svg;
    markup_element(svg, "text", text, "class", classes, "x", markup_number(svg, x), "y",
                   markup_number(svg, y), "text-anchor", anchors[anchor], NULL);
}

static Box
text_box(double x, double y, Anchor anchor, const char *text)
{
    double width = text_width(text);
    double left = x - (anchor == ANCHOR_START ? 0.0 : anchor == ANCHOR_MIDDLE ? width / 2 : width);
    return (Box){left, y - 0.80 * TEXT_SIZE, left + width, y + 0.24 * TEXT_SIZE};
}

void
draw_text_kept(Canvas *canvas, const char *classes, double x, double y, Anchor anchor,
               const char *text)
{
    if (!isfinite(x) || !isfinite(y))
        return;
    Box box = text_box(x, y, anchor, text);
    keep_free(canvas, box.x0, box.y0, box.x1, box.y1);
    draw_text(canvas, classes, x, y, anchor, text);
}

/* Not between a number and its unit. */
static bool
may_part_at(const char *text, const char *blank)
{
    return !(blank > text && g_ascii_isdigit(blank[-1]) && g_ascii_isalpha(blank[1]));
}

char *
text_split(const char *text, double width, char **rest)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    *rest = NULL;
    if (text_width(valid) <= width)
        return g_steal_pointer(&valid);
    char *fits = NULL;
    for (char *at = strchr(valid, ' '); at != NULL; at = strchr(at + 1, ' ')) {
        *at = '\0';
        bool good = text_width(valid) <= width;
        *at = ' ';
        if (!good)
            break;
        if (may_part_at(valid, at))
            fits = at;
    }
    if (fits == NULL)
        return text_fitted(valid, width);
    *rest = g_strdup(fits + 1 + strspn(fits + 1, " "));
    *fits = '\0';
    if (**rest == '\0')
        g_clear_pointer(rest, g_free);
    return g_strdup(valid);
}

GPtrArray *
text_lines(const char *text, double width, unsigned most)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *left = g_strdup(text);
    while (left != NULL && lines->len + 1 < most) {
        char *rest = NULL;
        g_ptr_array_add(lines, text_split(left, width, &rest));
        g_free(left);
        left = rest;
    }
    if (left != NULL)
        g_ptr_array_add(lines, text_fitted(left, width));
    return lines;
}

void
draw_paragraph(Canvas *canvas, const char *classes, double x, double *y, const char *text)
{
    double room = canvas->left + CANVAS_WIDTH - CANVAS_MARGIN - x;
    g_autofree char *left = g_strdup(text);
    while (left != NULL && *left != '\0') {
        char *rest;
        g_autofree char *line = text_split(left, room, &rest);
        draw_text(canvas, classes, x, *y += LINE_HEIGHT, ANCHOR_START, line);
        g_free(left);
        left = rest;
    }
    canvas->height = fmax(canvas->height, *y);
}

void
keep_free(Canvas *canvas, double x0, double y0, double x1, double y1)
{
    Box box = {fmin(x0, x1), fmin(y0, y1), fmax(x0, x1), fmax(y0, y1)};
    if (isfinite(box.x0) && isfinite(box.y0) && isfinite(box.x1) && isfinite(box.y1))
        g_array_append_val(canvas->taken, box);
}

bool
is_free(const Canvas *canvas, const Box *box)
{
    for (guint i = 0; i < canvas->taken->len; i++) {
        const Box *other = &g_array_index(canvas->taken, Box, i);
        if (box->x0 < other->x1 && other->x0 < box->x1 && box->y0 < other->y1 &&
            other->y0 < box->y1)
            return false;
    }
    return true;
}

/* Tries places around a point, near ones first, those beside it before those above and below. */
static bool
find_place(const Canvas *canvas, double x, double y, double width, double height, const Box *bounds,
           Box *found)
{
    static const double away[] = {4, 10, 18, 28, 40, 54, 70, 90};
    static const struct {
        double x, y; /* direction; the box lies on that side */
    } sides[] = {{1, 0},    {-1, 0},  {1, -1},    {-1, -1},   {1, 1},   {-1, 1},
                 {0, -1},   {0, 1},   {0.4, -1},  {-0.4, -1}, {0.4, 1}, {-0.4, 1},
                 {1, -0.4}, {1, 0.4}, {-1, -0.4}, {-1, 0.4}};
    for (size_t a = 0; a < G_N_ELEMENTS(away); a++) {
        for (size_t s = 0; s < G_N_ELEMENTS(sides); s++) {
            double cx = x + sides[s].x * (away[a] + width / 2);
            double cy = y + sides[s].y * (away[a] + height / 2);
            Box box = {cx - width / 2, cy - height / 2, cx + width / 2, cy + height / 2};
            if (box.x0 < bounds->x0 || box.x1 > bounds->x1 || box.y0 < bounds->y0 ||
                box.y1 > bounds->y1)
                continue;
            if (is_free(canvas, &box)) {
                *found = box;
                return true;
            }
        }
    }
    return false;
}

/* From the point to the nearest edge of the box, unless it is right beside it. */
static void
draw_leader(Canvas *canvas, double x, double y, const Box *box)
{
    double ex = fmin(fmax(x, box->x0), box->x1);
    double ey = fmin(fmax(y, box->y0), box->y1);
    if (hypot(ex - x, ey - y) > 7.0)
        draw_line(canvas, "leader", x, y, ex, ey);
}

bool
draw_label(Canvas *canvas, const char *classes, double x, double y, const char *text,
           const Box *bounds)
{
    Box box;
    if (!isfinite(x) || !isfinite(y) ||
        !find_place(canvas, x, y, text_width(text) + 2.0, 1.05 * TEXT_SIZE, bounds, &box))
        return false;
    draw_leader(canvas, x, y, &box);
    keep_free(canvas, box.x0, box.y0, box.x1, box.y1);
    draw_text(canvas, classes, box.x0 + 1.0, box.y0 + 0.81 * TEXT_SIZE, ANCHOR_START, text);
    return true;
}

static double
tag_width(const char *text)
{
    return fmax(text_width(text) + 6.0, 19.0);
}

void
draw_tag_at(Canvas *canvas, const char *classes, double x, double y, const char *text)
{
    if (!isfinite(x) || !isfinite(y))
        return;
    double size = tag_width(text), left = x - size / 2, top = y - 9.5;
    keep_free(canvas, left, top, left + size, top + 19.0);
    Markup *svg = canvas->svg;
    markup_empty(svg, "rect", "class", classes, "x", markup_number(svg, left), "y",
                 markup_number(svg, top + 0.5), "width", markup_number(svg, size), "height", "18",
                 "rx", "9", NULL);
    draw_text(canvas, "tag-text", x, top + 14.8, ANCHOR_MIDDLE, text);
}

bool
draw_tag(Canvas *canvas, const char *classes, double x, double y, const char *text,
         const Box *bounds)
{
    Box box;
    if (!isfinite(x) || !isfinite(y) ||
        !find_place(canvas, x, y, tag_width(text), 19.0, bounds, &box))
        return false;
    draw_leader(canvas, x, y, &box);
    draw_tag_at(canvas, classes, (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, text);
    return true;
}
