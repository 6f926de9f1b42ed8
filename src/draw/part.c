/* Parts of a picture: links in a page, groups with a title in a file.
 * Invariant: an element id stands in a page at most once, as long as no path comes twice in a view. */
#include "draw/canvas.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

#define THUMB 13.0 /* radius of the ground around a mark that takes a finger */

static const struct {
    const char *word, *axes;
} views[] = {
    [SEEN_FROM_SIDE] = {"profile", "along height"}, [SEEN_FROM_ABOVE] = {"plan", "along across"}};

/* NULL: the part is no link. g_free. */
static char *
target_of(const DrawHow *how, const char *path, const char *field)
{
    if (!how->in_page || path == NULL || *path == '\0')
        return NULL;
    if (how->link != NULL)
        return how->link(how->context, path, field);
    return g_strconcat("#f-", path, field != NULL ? "." : NULL, field, NULL);
}

void
part_open(Canvas *canvas, const char *classes, const char *path, const char *field,
          const char *label)
{
    g_autofree char *target = target_of(canvas->how, path, field);
    if (target != NULL) {
        markup_open(canvas->svg, "a", "class", classes, "href", target, "aria-label", label,
                    "data-path", path, NULL);
        return;
    }
    markup_open(canvas->svg, "g", "class", classes, "data-path", path, NULL);
    markup_element(canvas->svg, "title", label, NULL);
}

void
part_close(Canvas *canvas)
{
    markup_close(canvas->svg);
}

void
view_open(Canvas *canvas, SeenFrom seen, const Frame *frame)
{
    if (!canvas->how->in_page) {
        markup_open(canvas->svg, "g", "class", "view", NULL);
        return;
    }
    UnitsChoice units = canvas->how->units;
    g_autofree char *numbers = frame_text(frame, 1.0, 1.0);
    char metre[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(metre, sizeof metre, "%.6g", shown_to_si(1.0, Q_LENGTH, units));
    markup_open(canvas->svg, "g", "class", "view", "data-axes", views[seen].axes, "data-frame",
                numbers, "data-unit", kind_shown(Q_LENGTH, units), "data-unit-m", metre, NULL);
}

void
view_close(Canvas *canvas)
{
    markup_close(canvas->svg);
}

char *
spot_text(const Spot *at)
{
    const double metres[] = {at->x_m, at->y_m, at->z_m};
    g_autoptr(GString) text = g_string_new(NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(metres); i++) {
        char number[G_ASCII_DTOSTR_BUF_SIZE];
        double rounded = round(metres[i] * 1000.0) / 1000.0;
        g_ascii_formatd(number, sizeof number, "%.3f", rounded == 0.0 ? 0.0 : rounded);
        g_string_append_printf(text, "%s%s", i > 0 ? " " : "", number);
    }
    return g_string_free(g_steal_pointer(&text), FALSE);
}

static char *
capital(const char *name)
{
    g_autofree char *valid = g_utf8_make_valid(name, -1);
    const char *rest = *valid != '\0' ? g_utf8_next_char(valid) : valid;
    g_autofree char *first = g_utf8_strup(valid, rest - valid);
    return g_strconcat(first, rest, NULL);
}

/* NULL when the path has signs that an id must not have: then it does without. */
static char *
id_of(const Canvas *canvas, SeenFrom seen, const char *path)
{
    if (path[strspn(path, "abcdefghijklmnopqrstuvwxyz0123456789-.")] != '\0')
        return NULL;
    return g_strdup_printf("%s-%s-%s", canvas->how->prefix, views[seen].word, path);
}

static char *
spoken_place(const Canvas *canvas, const Thing *thing)
{
    g_autofree char *along = show(canvas, fabs(thing->at.x_m), Q_LENGTH);
    return g_strdup_printf("%s %s", along,
                           thing->at.x_m < 0.0 ? "aft of the stern" : "from the stern");
}

static void
open_movable(Canvas *canvas, SeenFrom seen, const Thing *thing, const char *target)
{
    g_autofree char *plain = name_plain(thing->name), *name = capital(plain);
    g_autofree char *place = spoken_place(canvas, thing), *at = spot_text(&thing->at);
    g_autofree char *label =
        g_strdup_printf("%s, %s, %s; arrow keys move it", name, thing->facts, place);
    g_autofree char *id = id_of(canvas, seen, thing->path);
    markup_open(canvas->svg, "a", "class", "part movable", "id", id, "href", target, "aria-label",
                label, "data-path", thing->path, "data-name", name, "data-place", at, NULL);
}

void
thing_open(Canvas *canvas, SeenFrom seen, const Frame *frame, const Thing *thing)
{
    g_autofree char *target = target_of(canvas->how, thing->path, thing->field);
    const Spot *at = &thing->at;
    bool placed = isfinite(at->x_m) && isfinite(at->y_m) && isfinite(at->z_m);
    if (target == NULL || canvas->how->fixed || !thing->movable || !placed) {
        part_open(canvas, "part", thing->path, thing->field, thing->title);
        return;
    }
    open_movable(canvas, seen, thing, target);
    draw_circle(canvas, "hit", frame_x(frame, at->x_m),
                frame_y(frame, seen == SEEN_FROM_SIDE ? at->z_m : at->y_m), THUMB);
}

void
thing_close(Canvas *canvas)
{
    markup_close(canvas->svg);
}
