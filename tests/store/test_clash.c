/* Who saw what: edits held against the values their makers saw. */
#include "store/store.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#include "scratch.h"

enum { INCREMENTS = 40 };

/* One edit by one who saw `was`; CONFLICT and what clashed, or saved. */
typedef struct {
    const char *now;    /* replaces 90 kg in the file, before the edit; NULL: left so */
    const char *was;    /* NULL: not held against anything */
    const char *wanted; /* NULL: taken out */
    bool clashes;
} Case;

static const Case cases[] = {
    {NULL, "90 kg", "95 kg", false},
    {NULL, NULL, "95 kg", false},
    {NULL, "90  kg", "95 kg", true}, /* other writing of a scalar is another text */
    {"80 kg", "90 kg", "95 kg", true},
    {"80 kg", "", "95 kg", true},
    {"80 kg", NULL, "95 kg", false},
    {"95 kg", "90 kg", "95 kg", false}, /* both wanted the same */
    {"'90 kg'", "90 kg", "95 kg", false},
    {"90 kg   # weighed by the yard", "90 kg", "95 kg", false},
    {"", "90 kg", "95 kg", true},
    {"", "", "95 kg", false}, /* an empty value is nothing */
    {"80 kg", "90 kg", NULL, true},
    {NULL, "90 kg", NULL, false},
    {NULL, "90 kg\r\n", "95 kg", false}, /* as a form posts it */
};

static char *
boat_with_mass(const char *mass)
{
    const char *at = strstr(scratch_boat, "90 kg");
    return g_strdup_printf("%.*s%s%s", (int) (at - scratch_boat), scratch_boat, mass,
                           at + strlen("90 kg"));
}

static Saved *
edit_one(Store *store, const char *path, const char *was, const char *wanted, GPtrArray *clashes,
         GError **error)
{
    Edit edit = {.path = path, .value = wanted};
    Change change = {.n = 1, .edit = &edit, .was = &was, .clashes = clashes};
    return store_edit(store, &change, error);
}

static void
each_case_clashes_or_not(void **state)
{
    const Scratch *scratch = *state;
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        const Case *c = &cases[i];
        g_autofree char *boat = boat_with_mass(c->now != NULL ? c->now : "90 kg");
        scratch_write(scratch->file, boat);
        g_autoptr(GError) error = NULL;
        g_autoptr(GPtrArray) clashes = clashes_new();
        g_autoptr(Store) store = store_open(scratch->file, NULL);
        g_autoptr(Saved) saved =
            edit_one(store, "items.stove.mass", c->was, c->wanted, clashes, &error);
        if ((saved == NULL) != c->clashes)
            fail_msg("case %zu: %s", i, error != NULL ? error->message : "saved");
        assert_int_equal(clashes->len, c->clashes);
        if (!c->clashes)
            continue;
        assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
        scratch_holds(scratch->file, boat);
    }
}

static void
clash_tells_all_three(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    saved_free(edit_one(store, "items.stove.mass", NULL, "80 kg", NULL, NULL));
    g_autofree char *before = boat_with_mass("80 kg");
    g_autoptr(GPtrArray) clashes = clashes_new();
    Edit edits[] = {{.path = "items.anchor.along", .value = "10.5 m"},
                    {.path = "items.stove.mass", .value = "95 kg"},
                    {.path = "items.anchor.across", .value = "0.4 m port"},
                    {.path = "items.stove.what", .value = NULL}};
    const char *was[] = {"11 m", "90 kg", "0.2 m starboard", ""};
    Change change = {.n = 4, .edit = edits, .was = was, .clashes = clashes};
    assert_null(store_edit(store, &change, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
    scratch_holds(scratch->file, before);
    assert_int_equal(clashes->len, 3);
    const Clash *mass = g_ptr_array_index(clashes, 0), *across = g_ptr_array_index(clashes, 1),
                *what = g_ptr_array_index(clashes, 2);
    assert_string_equal(mass->path, "items.stove.mass");
    assert_null(mass->option);
    assert_string_equal(mass->seen, "90 kg");
    assert_string_equal(mass->now, "80 kg");
    assert_string_equal(mass->wanted, "95 kg");
    assert_string_equal(across->seen, "0.2 m starboard");
    assert_null(across->now);
    assert_null(what->seen);
    assert_string_equal(what->now, "cast stove");
    assert_null(what->wanted);
    assert_non_null(
        strstr(error->message, "items.stove.mass: was 90 kg when you looked, is 80 kg"));
}

/* What another one took out already is not missed; the other edits are made. */
static void
taken_out_twice_is_no_clash(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    saved_free(edit_one(store, "items.stove.height", "0.8 m", NULL, NULL, NULL));
    Edit edits[] = {{.path = "items.stove.height"}, {.path = "items.stove.mass", .value = "91 kg"}};
    const char *was[] = {"0.8 m", "90 kg"};
    Change change = {.n = 2, .edit = edits, .was = was};
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    assert_null(error);
    assert_non_null(strstr(saved->text, "91 kg"));
    assert_null(strstr(saved->text, "0.8 m"));
}

static void
a_thing_taken_away_is_not_brought_back(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    saved_free(edit_one(store, "items.stove", NULL, NULL, NULL, NULL));
    assert_null(edit_one(store, "items.stove.mass", "90 kg", "95 kg", NULL, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
}

/* A map is held against its lines, whatever their layout. */
static void
whole_entry_is_held_against_its_lines(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    static const char other[] = "what: cast stove\nalong: 6 m\nheight: 0.8 m\nmass: 91 kg";
    static const char same[] = "what:   cast stove   # from the quay\n"
                               "along: '6 m'\n\nheight: 0.8 m\nmass: 90 kg\n";
    assert_null(edit_one(store, "items.stove", other, NULL, NULL, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
    g_clear_error(&error);
    g_autoptr(Saved) saved = edit_one(store, "items.stove", same, NULL, NULL, &error);
    assert_null(error);
    assert_null(strstr(saved->text, "stove"));
}

/* Somebody gave the option a value of its own meanwhile, or took it back. */
static void
option_chosen_is_looked_into(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    g_autoptr(GPtrArray) clashes = clashes_new();
    const char *const options[] = {"light"};
    const char *was = "35 kg"; /* of the base; the option says 20 kg */
    Edit edit = {.path = "items.anchor.mass", .value = "22 kg"};
    Change change = {
        .n = 1, .edit = &edit, .n_options = 1, .options = options, .was = &was, .clashes = clashes};
    assert_null(store_edit(store, &change, &error));
    const Clash *clash = g_ptr_array_index(clashes, 0);
    assert_string_equal(clash->path, "items.anchor.mass");
    assert_string_equal(clash->option, "light");
    assert_string_equal(clash->now, "20 kg");
    g_clear_error(&error);
    was = "20 kg";
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    assert_null(error);
    assert_non_null(strstr(saved->text, "          mass: 22 kg\n"));
}

/* The word remove in an option: nothing is there. */
static void
removed_by_the_option_is_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(GString) boat = g_string_new(scratch_boat);
    g_string_replace(boat, "20 kg", "remove", 1);
    scratch_write(scratch->file, boat->str);
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    const char *const options[] = {"light"};
    const char *was = "35 kg";
    Edit edit = {.path = "items.anchor.mass", .value = "22 kg"};
    Change change = {.n = 1, .edit = &edit, .n_options = 1, .options = options, .was = &was};
    assert_null(store_edit(store, &change, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
    g_clear_error(&error);
    was = "";
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    assert_null(error);
    assert_true(saved->changed);
}

/* Adds one kilogram to the value seen. */
static bool
add_one(Store *store)
{
    for (;;) {
        gsize length;
        g_autoptr(GError) error = NULL;
        g_autofree char *text = store_text(store, &length, &error);
        const char *at = text != NULL ? strstr(text, "what: cast stove") : NULL;
        at = at != NULL ? strstr(at, "mass: ") : NULL;
        if (at == NULL)
            return false;
        int mass = atoi(at + strlen("mass: "));
        g_autofree char *was = g_strdup_printf("%d kg", mass);
        g_autofree char *wanted = g_strdup_printf("%d kg", mass + 1);
        g_autoptr(Saved) saved = edit_one(store, "items.stove.mass", was, wanted, NULL, &error);
        if (saved != NULL && saved->changed)
            return true;
        if (saved == NULL && !g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT))
            return false;
    }
}

static void
two_who_say_what_they_saw_lose_nothing(void **state)
{
    const Scratch *scratch = *state;
    pid_t child[2];
    for (int i = 0; i < 2; i++) {
        child[i] = fork();
        assert_true(child[i] >= 0);
        if (child[i] == 0) {
            Store *store = store_open(scratch->file, NULL);
            bool good = store != NULL;
            for (int k = 0; good && k < INCREMENTS; k++)
                good = add_one(store);
            store_close(store);
            _exit(good ? 0 : 1);
        }
    }
    for (int i = 0; i < 2; i++) {
        int status;
        assert_int_equal(waitpid(child[i], &status, 0), child[i]);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    g_autofree char *mass = g_strdup_printf("%d kg", 90 + 2 * INCREMENTS);
    g_autofree char *sum = boat_with_mass(mass);
    scratch_holds(scratch->file, sum);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(each_case_clashes_or_not),
        TEST(clash_tells_all_three),
        TEST(taken_out_twice_is_no_clash),
        TEST(a_thing_taken_away_is_not_brought_back),
        TEST(whole_entry_is_held_against_its_lines),
        TEST(option_chosen_is_looked_into),
        TEST(removed_by_the_option_is_nothing),
        TEST(two_who_say_what_they_saw_lose_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
