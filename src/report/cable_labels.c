/* Flag labels on A4: a row of the sheet is one cable, its left label for the end it is fed from.
 * Invariant: a label is as large on every page, and its text stays inside. */
#include "report/cable_labels.h"

#include "report/cable_notes.h"
#include "report/flow_box.h"
#include "report/page_head.h"
#include "report/sketch.h"
#include "report/words.h"

#define PAD_MM 1.2
#define NUMBER_MM 9.5

typedef struct {
    const Cables *cables;
    const Asked *asked;
    Flow flow;
} Sheet;

char *
label_way_words(const CableLine *line, CableEnd end)
{
    return end == END_FED ? g_strdup_printf("to: %s", line->to)
                          : g_strdup_printf("from: %s", line->board->name);
}

/* "fuse 10 A; ", "no fuse; ", or nothing where nothing is known. */
static char *
fuse_words(const Cables *cables, const CableLine *line)
{
    const Protection *typed = line->protect != NULL ? line->protect->data : NULL;
    if (typed == NULL || typed->kind < 0)
        return g_strdup("");
    if (typed->kind == PROTECT_NONE)
        return g_strdup("no fuse; ");
    g_autofree char *rating = rating_words(cables, line->protect);
    return g_strdup_printf("%s %s; ", choice_word(line->protect, "kind", typed->kind), rating);
}

char *
label_kind_words(const Cables *cables, const CableLine *line)
{
    g_autofree char *wires = cable_wires_words(line);
    g_autofree char *size = cable_size_words(line);
    if (line->typed->wires == WIRES_NEGATIVE)
        return g_strdup_printf("%s, %s", wires, size);
    g_autofree char *fuse = fuse_words(cables, line);
    return g_strdup_printf("%s%s, %s", fuse, wires, size);
}

static void
face(Sheet *s, const CableLine *line, CableEnd end, double x, double y)
{
    g_autofree char *way = unparted(label_way_words(line, end));
    g_autofree char *kind = unparted(label_kind_words(s->cables, line));
    double text_x = x + PAD_MM + NUMBER_MM, text_w = LABEL_FACE_MM - NUMBER_MM - 2 * PAD_MM;
    box_text(&s->flow, (Box){x + PAD_MM, y, NUMBER_MM - 1.0, LABEL_HEIGHT_MM}, TRUE, 18.0,
             line->label);
    box_text(&s->flow, (Box){text_x, y + 0.6, text_w, 7.2}, TRUE, 9.0, line->what);
    box_text(&s->flow, (Box){text_x, y + 7.8, text_w, 6.6}, FALSE, 7.0, way);
    box_text(&s->flow, (Box){text_x, y + 14.4, text_w, 5.2}, FALSE, 7.0, kind);
}

static void
label(Sheet *s, const CableLine *line, CableEnd end, double x, double y)
{
    double fold1 = x + LABEL_FACE_MM, fold2 = fold1 + LABEL_STRIP_MM;
    box_frame(&s->flow, (Box){x, y, LABEL_WIDTH_MM, LABEL_HEIGHT_MM}, BOX_CUT);
    box_rule(&s->flow, fold1, y, fold1, y + LABEL_HEIGHT_MM, BOX_LINE);
    box_rule(&s->flow, fold2, y, fold2, y + LABEL_HEIGHT_MM, BOX_LINE);
    face(s, line, end, x, y);
    face(s, line, end, fold2, y);
}

static gboolean
instructions(Sheet *s, GError **error)
{
    g_autofree char *text = g_strdup_printf(
        "Print at 100 %%, not \u201cfit to page\u201d: the bar below is 100 mm long. Each label is "
        "%.0f mm x %.0f mm. Cut along the dashes, lay the strip between the two lines round the "
        "cable, stick the faces together back to back; on a thick cable wrap it round. Cover it "
        "with clear tape or shrink tube against oil and water. A row is one cable: the left label "
        "for "
        "the end it is fed from, the right one for its other end; each says where the other is.",
        LABEL_WIDTH_MM, LABEL_HEIGHT_MM);
    flow_paragraph(&s->flow, FONT_TEXT, text);
    Sketch bar;
    sketch_begin(&bar, 110.0, 5.0);
    sketch_bar(&bar, 1.0, 3.5);
    g_autofree char *svg = sketch_end(&bar);
    return flow_sketch(&s->flow, svg, error);
}

static gboolean
pass(Sheet *s, gboolean draw, GError **error)
{
    const char *nothing = cable_notes_nothing(s->cables);
    flow_begin(&s->flow, draw);
    if (nothing != NULL)
        flow_paragraph(&s->flow, FONT_HEAD, nothing);
    cable_notes_cautions(&s->flow, s->cables, s->asked);
    if (nothing == NULL && !instructions(s, error))
        return FALSE;
    for (guint i = 0; i < s->cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(s->cables->lines, i);
        flow_need(&s->flow, LABEL_HEIGHT_MM);
        label(s, line, END_FED, PAGE_MARGIN_MM, s->flow.y);
        label(s, line, END_FAR, PAGE_WIDTH_MM - PAGE_MARGIN_MM - LABEL_WIDTH_MM, s->flow.y);
        flow_space(&s->flow, LABEL_HEIGHT_MM);
    }
    flow_end(&s->flow);
    return TRUE;
}

GBytes *
write_cable_labels(const Result *result, const Asked *asked, UnitsChoice units, GError **error)
{
    g_autoptr(Cables) cables = cables_new(result, units, (CableChoice){0});
    g_autofree char *head = page_head("Labels for cables", result, asked);
    Paper paper;
    if (!page_open(&paper, head, asked->today, error))
        return NULL;
    Sheet s = {.cables = cables, .asked = asked};
    flow_open(&s.flow, &paper, head, "careen " CAREEN_VERSION "; print at 100 %");
    gboolean good = pass(&s, FALSE, error) && pass(&s, TRUE, error);
    flow_close(&s.flow);
    GBytes *bytes = paper_close(&paper, good ? error : NULL);
    if (!good)
        g_clear_pointer(&bytes, g_bytes_unref);
    return bytes;
}
