/* Cables with their answers and findings, grouped by the board that feeds them.
 * Invariant: nothing is reckoned here but lengths to cut; every text of the owner has passed text_clean. */
#include "report/cables.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "boat/circuits.h"
#include "boat/written.h"
#include "report/words.h"

static const Answer *
answer_of(const Result *result, const char *quantity, const char *id)
{
    g_autofree char *name = g_strdup_printf("wiring.%s.%s", quantity, id);
    const Answer *answer = result_answer_find(result, name);
    return answer != NULL && isfinite(answer->value) ? answer : NULL;
}

static char *
end_words(const Result *result, const char *id)
{
    const Record *end = circuit_end(result_boat(result), id);
    return end != NULL ? path_words(result, end->path) : g_strdup("not said");
}

static bool
comes_from_the_quay(const Boat *boat, const char *id)
{
    const Record *end = circuit_end(boat, id);
    return end != NULL && end->section == &section_sources &&
           ((const SourceSection *) end->data)->kind == SOURCE_SHORE;
}

static CableLine *
line_new(const Result *result, const Record *record)
{
    const Circuit *typed = record->data;
    const Boat *boat = result_boat(result);
    g_autofree char *label = circuit_label(boat, record);
    CableLine *line = g_new0(CableLine, 1);
    *line = (CableLine){.record = record,
                        .typed = typed,
                        .protect = record_role(record, &section_circuit_protect),
                        .label = text_clean(label),
                        .what = path_words(result, record->path),
                        .from = typed->from.id,
                        .to = end_words(result, typed->to.id),
                        .mains = circuit_is_mains(boat, record),
                        .cut_m = typed->one_way_m + 2.0 * SPARE_AT_AN_END_M,
                        .current = answer_of(result, "current", record->id),
                        .drop = answer_of(result, "drop", record->id),
                        .may_carry = answer_of(result, "may-carry", record->id),
                        .fault = answer_of(result, "fault-current", record->id),
                        .breaks = answer_of(result, "breaks", record->id),
                        .guarded = answer_of(result, "protected-at", record->id),
                        .said = g_array_new(FALSE, FALSE, sizeof(size_t)),
                        .worst = LEVEL_FINE};
    bool alone = typed->wires == WIRES_POSITIVE || typed->wires == WIRES_NEGATIVE;
    line->conductors = line->mains ? 3 : alone ? 1 : 2; /* the earth of the mains */
    if (comes_from_the_quay(boat, typed->from.id)) {
        line->ready_made = true;
        line->cut_m = NAN;
    }
    return line;
}

static void
line_free(gpointer data)
{
    CableLine *line = data;
    g_free(line->label);
    g_free(line->what);
    g_free(line->to);
    g_array_unref(line->said);
    g_free(line);
}

static void
board_free(gpointer data)
{
    Board *board = data;
    g_free(board->name);
    g_ptr_array_unref(board->lines);
    g_free(board);
}

static Board *
board_of(Cables *cables, const char *id)
{
    const Record *at = circuit_end(result_boat(cables->result), id);
    for (guint i = 0; i < cables->boards->len; i++) {
        Board *board = g_ptr_array_index(cables->boards, i);
        if (board->at == at)
            return board;
    }
    Board *board = g_new0(Board, 1);
    *board = (Board){.name = end_words(cables->result, id), .at = at, .lines = g_ptr_array_new()};
    g_ptr_array_add(cables->boards, board);
    return board;
}

/* ---- what is said of each ---- */

static bool
told(const CableChoice *choice, const Finding *finding)
{
    bool found = choice->checks == NULL || finding->level == LEVEL_DANGER;
    for (size_t i = 0; !found && choice->checks[i] != NULL; i++)
        found = strcmp(finding->check->id, choice->checks[i]) == 0;
    return found && strcmp(finding->check->discipline, "wiring") == 0;
}

static void
put_under(GHashTable *lines_of, const Record *record, CableLine *line)
{
    GPtrArray *lines = record != NULL ? g_hash_table_lookup(lines_of, record->path) : NULL;
    if (record != NULL && lines == NULL) {
        lines = g_ptr_array_new();
        g_hash_table_insert(lines_of, (gpointer) record->path, lines);
    }
    if (lines != NULL)
        g_ptr_array_add(lines, line);
}

/* Lines by the paths that findings may be about: the circuit, what it leads to, the busbar whose fuse it has. */
static GHashTable *
lines_by_path(const Cables *cables)
{
    const Boat *boat = result_boat(cables->result);
    GHashTable *lines_of =
        g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_ptr_array_unref);
    for (guint i = 0; i < cables->lines->len; i++) {
        CableLine *line = g_ptr_array_index(cables->lines, i);
        const Record *board = circuit_end(boat, line->from);
        put_under(lines_of, line->record, line);
        put_under(lines_of, circuit_end(boat, line->typed->to.id), line);
        if (line->protect != NULL && board != NULL && board->section == &section_busbars)
            put_under(lines_of, board, line);
    }
    return lines_of;
}

/* "circuits.radio" of "circuits.radio.protect"; any other path as it is. g_free. */
static char *
circuit_path(const char *about)
{
    g_auto(GStrv) part = g_strsplit(about, ".", 3);
    return strcmp(about, "") != 0 && strcmp(part[0], "circuits") == 0 && part[1] != NULL
               ? g_strdup_printf("%s.%s", part[0], part[1])
               : g_strdup(about);
}

static void
mark(Cables *cables)
{
    g_autoptr(GHashTable) lines_of = lines_by_path(cables);
    for (size_t i = 0; i < result_findings(cables->result); i++) {
        const Finding *finding = result_finding(cables->result, i);
        if (!told(&cables->choice, finding) || !result_stands_alone(cables->result, finding))
            continue;
        g_autofree char *path = circuit_path(finding->about);
        const GPtrArray *lines = g_hash_table_lookup(lines_of, path);
        for (guint k = 0; lines != NULL && k < lines->len; k++) {
            CableLine *line = g_ptr_array_index(lines, k);
            line->worst = MIN(line->worst, finding->level);
            g_array_append_val(line->said, i);
        }
    }
}

static void
add_line(Cables *cables, const Record *record)
{
    const Circuit *typed = record->data;
    bool left_out = cables->choice.fed_only && typed->wires == WIRES_NEGATIVE;
    if (left_out ||
        !circuit_aboard(result_boat(cables->result), record, result_stage(cables->result)))
        return;
    CableLine *line = line_new(cables->result, record);
    Board *board = board_of(cables, line->from);
    line->board = board;
    g_ptr_array_add(cables->lines, line);
    g_ptr_array_add(board->lines, line);
}

Cables *
cables_new(const Result *result, UnitsChoice units, CableChoice choice)
{
    Cables *cables = g_new0(Cables, 1);
    *cables = (Cables){.result = result,
                       .units = units,
                       .choice = choice,
                       .lines = g_ptr_array_new_with_free_func(line_free),
                       .boards = g_ptr_array_new_with_free_func(board_free)};
    size_t n;
    const Record *const *records = boat_records(result_boat(result), &section_circuits, &n);
    for (size_t i = 0; i < n; i++)
        add_line(cables, records[i]);
    mark(cables);
    return cables;
}

void
cables_free(Cables *cables)
{
    if (cables == NULL)
        return;
    g_ptr_array_unref(cables->boards);
    g_ptr_array_unref(cables->lines);
    g_free(cables);
}

size_t
cables_marked(const Cables *cables, Level worst, Level least)
{
    size_t n = 0;
    for (guint i = 0; i < cables->lines->len; i++) {
        const CableLine *line = g_ptr_array_index(cables->lines, i);
        n += line->worst >= worst && line->worst <= least;
    }
    return n;
}

/* ---- words ---- */

char *
unparted(char *text)
{
    GString *out = g_string_sized_new(strlen(text) + 8);
    for (const char *at = text; *at != '\0'; at++) {
        bool between = *at == ' ' && at > text && g_ascii_isdigit(at[-1]) && g_ascii_isalpha(at[1]);
        g_string_append(out, between ? "\u00a0" : (char[]){*at, '\0'});
    }
    g_free(text);
    return g_string_free(out, FALSE);
}

static char *
as_typed(const Record *record, const char *key)
{
    g_autofree char *bare = field_written_bare(record, key);
    return bare != NULL ? text_clean(bare) : NULL;
}

static char *
size_words(const CableLine *line, const char *key, double area_m2)
{
    g_autofree char *typed = as_typed(line->record, key);
    g_autofree char *metric = number_show(area_m2, 0.01 * area_m2, Q_SMALL_AREA, UNITS_METRIC);
    if (typed == NULL || strstr(typed, "mm2") != NULL || strstr(typed, "mm^2") != NULL)
        return g_strdup(typed != NULL ? typed : metric);
    return g_strdup_printf("%s (%s)", typed, metric);
}

char *
cable_size_words(const CableLine *line)
{
    return isfinite(line->typed->area_m2) ? size_words(line, "area", line->typed->area_m2)
                                          : g_strdup("size not known");
}

char *
cable_earth_words(const CableLine *line)
{
    return line->mains && isfinite(line->typed->earth_area_m2)
               ? size_words(line, "earth-area", line->typed->earth_area_m2)
               : NULL;
}

char *
cable_wires_words(const CableLine *line)
{
    static const char *const words[] = {"pair", "positive, single", "negative, single"};
    if (line->mains)
        return g_strdup("mains");
    return g_strdup(line->typed->wires >= 0 ? words[line->typed->wires] : words[WIRES_PAIR]);
}

const char *
choice_word(const Record *record, const char *key, int choice)
{
    return choice >= 0 ? section_field(record->section, key)->choices[choice].word : NULL;
}

/* A star: not in the boat file, taken so. */
static const char *
star(const Record *record, const char *key)
{
    return record_state(record, key)->origin == ORIGIN_TYPED ? "" : "*";
}

char *
cable_made_words(const CableLine *line)
{
    const Record *record = line->record;
    g_autofree char *bears = as_typed(record, "insulation");
    if (bears == NULL)
        bears = number_show(line->typed->insulation_K, 1.0, Q_TEMPERATURE, UNITS_METRIC);
    const char *of = choice_word(record, "insulation-kind", line->typed->insulated_by);
    return g_strdup_printf(
        "%s%s%s%s, %s%s, %s%s copper", of != NULL ? of : "", of != NULL ? " " : "", bears,
        star(record, "insulation"), choice_word(record, "strands", MAX(line->typed->strands, 0)),
        star(record, "strands"), choice_word(record, "copper", MAX(line->typed->copper, 0)),
        star(record, "copper"));
}

char *
cable_length_words(const Cables *cables, double length_m)
{
    return isfinite(length_m) ? number_show(length_m, 0.02, Q_LENGTH, cables->units)
                              : g_strdup("not known");
}

/* Nothing smaller than a hundredth of an ampere or volt is worth a digit at the bench. */
#define LEAST_SPREAD 0.02

char *
answer_cell(const Cables *cables, const Answer *answer)
{
    if (answer == NULL)
        return g_strdup("\u2013");
    bool followed = isfinite(answer->spread) && answer->spread > 0.0;
    double spread = followed ? answer->spread : 0.02 * fabs(answer->value);
    return value_words(answer->value, fmax(spread, LEAST_SPREAD), answer->kind->kind,
                       cables->units);
}

char *
protection_words(const Cables *cables, const Record *protect)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    if (typed == NULL || typed->kind < 0)
        return g_strdup("not said");
    if (typed->kind == PROTECT_NONE)
        return g_strdup("none");
    g_autoptr(GString) words = g_string_new(choice_word(protect, "kind", typed->kind));
    const char *family = choice_word(protect, "class", typed->family);
    const char *curve = choice_word(protect, "curve", typed->curve);
    if (typed->kind == PROTECT_FUSE && family != NULL)
        g_string_append_printf(words, ", %s", family);
    if (typed->kind == PROTECT_BREAKER && curve != NULL)
        g_string_append_printf(words, " %s", curve);
    g_autofree char *rating = rating_words(cables, protect);
    g_string_append_printf(words, ", %s", rating);
    return g_string_free(g_steal_pointer(&words), FALSE);
}

char *
rating_words(const Cables *cables, const Record *protect)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    return typed != NULL && isfinite(typed->rating_A)
               ? number_show(typed->rating_A, NAN, Q_CURRENT, cables->units)
               : g_strdup("rating not said");
}

static bool
leads_to_starter(const Cables *cables, const CableLine *line)
{
    const Record *to = circuit_end(result_boat(cables->result), line->typed->to.id);
    const Record *load =
        to != NULL && to->section == &section_items ? record_role(to, &section_load) : NULL;
    return load != NULL && ((const LoadRole *) load->data)->use == LOAD_STARTER;
}

bool
protected_at_both(const CableLine *line)
{
    return line->protect != NULL &&
           ((const Protection *) line->protect->data)->ends == PROTECT_BOTH_ENDS;
}

char *
guard_words(const Cables *cables, const CableLine *line)
{
    if (line->typed->wires == WIRES_NEGATIVE)
        return g_strdup("\u2013");
    if (line->protect == NULL && leads_to_starter(cables, line))
        return g_strdup("none (starter)");
    if (line->protect != NULL || line->guarded == NULL) {
        g_autofree char *words = protection_words(cables, line->protect);
        return g_strconcat(words, protected_at_both(line) ? ", at each end" : "", NULL);
    }
    g_autofree char *rating = answer_cell(cables, line->guarded);
    return g_strdup_printf("by its board, %s", rating);
}
