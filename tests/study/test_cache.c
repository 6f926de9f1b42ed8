/* Studies kept by what was asked: found again, shared between threads, stopped, and let go. */
#include "plans.h"

#include "study/cache.h"

enum { THREADS = 8 };

typedef struct {
    StudyCache *cache;
    const StudyAsked *asked;
    StudyHow how;
    gint done; /* progress told, atomic */
    void *found;
} Caller;

static StudyAsked
asked_of(const Opened *o)
{
    return (StudyAsked){&o->input, &o->plan, o->result};
}

static void
count_up(size_t done, size_t all, void *data)
{
    (void) all;
    Caller *caller = data;
    g_atomic_int_set(&caller->done, (gint) done);
}

static gpointer
ask(gpointer data)
{
    Caller *caller = data;
    caller->how.progress = count_up;
    caller->how.data = caller;
    caller->found = study_cache_doubt(caller->cache, caller->asked, &caller->how);
    return NULL;
}

static void
what_was_asked_once_is_found_again(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE);
    g_autoptr(StudyCache) cache = study_cache_new(4);
    StudyAsked asked = asked_of(o);
    g_autoptr(Doubt) doubt = study_cache_doubt(cache, &asked, NULL);
    g_autoptr(Doubt) again = study_cache_doubt(cache, &asked, NULL);
    assert_ptr_equal(doubt, again);
    g_autoptr(Remedies) all = study_cache_remedies(cache, &asked, NULL, NULL);
    g_autoptr(Remedies) one = study_cache_remedies(cache, &asked, "afloat.stiffness", NULL);
    assert_ptr_not_equal(all, one);
    assert_int_equal(one->n, 1);
    g_autoptr(Trials) trials = study_cache_trials(cache, &asked, NULL);
    g_autoptr(Trials) same = study_cache_trials(cache, &asked, NULL);
    assert_ptr_equal(trials, same);
    g_autoptr(Comparison) plans = study_cache_compare(cache, &asked, 0, NULL, NULL);
    g_autoptr(Comparison) like = study_cache_compare(cache, &asked, 0, NULL, NULL);
    assert_ptr_equal(plans, like);
    assert_int_equal(study_cache_kept(cache), 5);
    opened_free(o);
}

/* Each of these makes another question. */
static void
another_question_is_another_study(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE), *n = open_example("punt", NULL, STAGE_NOW);
    g_autofree char *longer = g_strconcat(o->text, "# a remark\n", NULL);
    Opened *text = open_text(longer, NULL, STAGE_DONE);
    g_autoptr(StudyCache) cache = study_cache_new(16);
    StudyAsked asked[] = {asked_of(o), asked_of(n), asked_of(text), asked_of(o), asked_of(o)};
    SolveInput light = o->input, dated = o->input;
    light.situation = "light";
    dated.today = (Date){2026, 5, 1};
    asked[3].solve = &light;
    asked[4].solve = &dated;
    StudyHow how = {.seed = 0};
    Doubt *found[G_N_ELEMENTS(asked) + 1];
    for (size_t i = 0; i < G_N_ELEMENTS(asked); i++)
        found[i] = study_cache_doubt(cache, &asked[i], &how);
    how.seed = 1;
    found[G_N_ELEMENTS(asked)] = study_cache_doubt(cache, &asked[0], &how);
    assert_int_equal(study_cache_kept(cache), G_N_ELEMENTS(found));
    for (size_t i = 0; i < G_N_ELEMENTS(found); i++)
        doubt_free(found[i]);
    opened_free(o);
    opened_free(n);
    opened_free(text);
}

static void
the_oldest_are_let_go_and_what_is_held_lives_on(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE);
    g_autoptr(StudyCache) cache = study_cache_new(2);
    StudyAsked asked = asked_of(o);
    g_autoptr(Doubt) first = NULL;
    for (guint64 seed = 0; seed < 5; seed++) {
        StudyHow how = {.seed = seed};
        g_autoptr(Doubt) doubt = study_cache_doubt(cache, &asked, &how);
        if (seed == 0)
            first = doubt_ref(doubt);
        assert_true(study_cache_kept(cache) <= 2);
    }
    assert_non_null(doubt_answer(first, "afloat.gm"));
    StudyHow how = {.seed = 0};
    g_autoptr(Doubt) anew = study_cache_doubt(cache, &asked, &how);
    assert_ptr_not_equal(anew, first);
    opened_free(o);
}

/* All get the one study, and only one of them was told its progress: it was made once. */
static void
threads_that_ask_the_same_share_it(void **state)
{
    (void) state;
    Opened *o = open_example("punt", NULL, STAGE_DONE);
    g_autoptr(StudyCache) cache = study_cache_new(4);
    StudyAsked asked = asked_of(o);
    Caller caller[THREADS];
    GThread *thread[THREADS];
    for (size_t i = 0; i < THREADS; i++) {
        caller[i] = (Caller){.cache = cache, .asked = &asked};
        thread[i] = g_thread_new("ask", ask, &caller[i]);
    }
    size_t told = 0;
    for (size_t i = 0; i < THREADS; i++)
        g_thread_join(thread[i]);
    for (size_t i = 0; i < THREADS; i++) {
        told += g_atomic_int_get(&caller[i].done) > 0;
        assert_non_null(caller[i].found);
        assert_ptr_equal(caller[i].found, caller[0].found);
    }
    assert_int_equal(told, 1);
    for (size_t i = 0; i < THREADS; i++)
        doubt_free(caller[i].found);
    opened_free(o);
}

/* The first is stopped: it gets nothing, and whoever waited makes it after all; a waiter that is stopped waits no longer. */
static void
who_is_cancelled_takes_nobody_along(void **state)
{
    (void) state;
    Opened *o = open_example("dunlin", NULL, STAGE_DONE);
    g_autoptr(StudyCache) cache = study_cache_new(4);
    StudyAsked asked = asked_of(o);
    gint stop_first = 0, stop_waiter = 0;
    Caller first = {.cache = cache, .asked = &asked, .how = {.cancel = &stop_first}};
    Caller waiter = {.cache = cache, .asked = &asked, .how = {.cancel = &stop_waiter}};
    Caller patient = {.cache = cache, .asked = &asked};
    GThread *a = g_thread_new("first", ask, &first);
    while (g_atomic_int_get(&first.done) < 2)
        g_usleep(1000);
    GThread *b = g_thread_new("waiter", ask, &waiter);
    GThread *c = g_thread_new("patient", ask, &patient);
    g_atomic_int_set(&stop_waiter, 1);
    g_thread_join(b);
    assert_null(waiter.found);
    g_atomic_int_set(&stop_first, 1);
    g_thread_join(a);
    g_thread_join(c);
    assert_null(first.found);
    assert_non_null(patient.found);
    assert_int_equal(study_cache_kept(cache), 1);
    doubt_free(patient.found);
    opened_free(o);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_asked_once_is_found_again),
        cmocka_unit_test(another_question_is_another_study),
        cmocka_unit_test(the_oldest_are_let_go_and_what_is_held_lives_on),
        cmocka_unit_test(threads_that_ask_the_same_share_it),
        cmocka_unit_test(who_is_cancelled_takes_nobody_along)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
