/* While a worker holds a visit nobody else touches it but for its flag; libsoup is touched by the main thread alone. */
#include "app/serve/answers.h"

#include <string.h>

#include "app/serve/door.h"
#include "app/serve/message.h"
#include "app/serve/upload.h"

struct Answers {
    Jobs *jobs;
    ServerWork work;
    GHashTable *open; /* of Answer */
};

typedef struct {
    Answers *answers;
    SoupServerMessage *msg;
    Visit *visit;
    GSource *watch;
    char *part, *file; /* of a scan */
    bool finished, goes_on;
} Answer;

Answers *
answers_new(Jobs *jobs, const ServerWork *work)
{
    Answers *answers = g_new(Answers, 1);
    *answers = (Answers){.jobs = jobs, .work = *work, .open = g_hash_table_new(NULL, NULL)};
    return answers;
}

void
answers_free(Answers *answers)
{
    if (answers == NULL)
        return;
    g_hash_table_unref(answers->open);
    g_free(answers);
}

static void
answer_gone(bool talks, void *data)
{
    Answer *answer = data;
    if (!talks)
        g_atomic_int_set(&answer->visit->cancelled, 1);
}

static void
answer_finished(SoupServerMessage *msg G_GNUC_UNUSED, gpointer data)
{
    Answer *answer = data;
    answer->finished = true;
    g_atomic_int_set(&answer->visit->cancelled, 1);
}

static void
answer_free(Answer *answer)
{
    g_hash_table_remove(answer->answers->open, answer);
    g_signal_handlers_disconnect_by_data(answer->msg, answer);
    door_watch_end(&answer->watch, answer->msg);
    if (answer->part != NULL)
        upload_remove(answer->part);
    g_free(answer->part);
    g_free(answer->file);
    visit_free(answer->visit);
    g_object_unref(answer->msg);
    g_free(answer);
}

static void
send_visit(SoupServerMessage *msg, const Visit *visit)
{
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    if (visit->status == 0) {
        message_refuse(msg, 500, "careen has no answer to this; that is a fault of its own");
        return;
    }
    lib.soup_server_message_set_status(msg, visit->status, NULL);
    for (guint i = 0; i + 1 < visit->headers->len; i += 2) {
        const char *name = g_ptr_array_index(visit->headers, i);
        const char *value = g_ptr_array_index(visit->headers, i + 1);
        if (g_ascii_strcasecmp(name, "Set-Cookie") == 0)
            lib.soup_message_headers_append(headers, name, value);
        else
            lib.soup_message_headers_replace(headers, name, value);
    }
    if (visit->body != NULL && visit->type != NULL)
        message_body(msg, visit->type, visit->body);
}

static void
answer_rest(void *data)
{
    Visit *visit = ((Answer *) data)->visit;
    visit->rest(visit, visit->rest_data);
}

static void
answer_done(void *data)
{
    Answer *answer = data;
    if (!answer->finished && !answer->goes_on && answer->visit->rest != NULL) {
        answer->goes_on = true;
        if (jobs_go_on(answer->answers->jobs, answer_rest, answer_done, answer))
            return;
    }
    if (!answer->finished) {
        door_watch_end(&answer->watch, answer->msg);
        send_visit(answer->msg, answer->visit);
        lib.soup_server_message_unpause(answer->msg);
    }
    answer_free(answer);
}

static void
answer_work(void *data)
{
    Answer *answer = data;
    const ServerWork *work = &answer->answers->work;
    if (answer->part == NULL) {
        work->answer(answer->visit, work->data);
        return;
    }
    unsigned status;
    g_autofree char *problem = upload_keep(answer->part, answer->file, &status);
    if (problem != NULL) {
        visit_answer(answer->visit, status, "text/plain; charset=utf-8", g_steal_pointer(&problem));
        return;
    }
    g_clear_pointer(&answer->part, g_free);
    work->scan_arrived(answer->visit, answer->file, work->data);
}

static void
begin(Answers *answers, SoupServerMessage *msg, Visit *visit, char *part, char *file)
{
    Answer *answer = g_new0(Answer, 1);
    const ServerWork *work = &answers->work;
    *answer = (Answer){
        .answers = answers, .msg = g_object_ref(msg), .visit = visit, .part = part, .file = file};
    g_hash_table_add(answers->open, answer);
    bool saves = work->saves != NULL && work->saves(visit, work->data);
    lib.soup_server_message_pause(msg);
    answer->watch = door_watch(msg, answer_gone, answer);
    g_signal_connect(msg, "finished", G_CALLBACK(answer_finished), answer);
    if (jobs_push(answers->jobs, saves, answer_work, answer_done, answer))
        return;
    lib.soup_message_headers_replace(lib.soup_server_message_get_response_headers(msg),
                                     "Retry-After", "1");
    message_refuse(msg, 503, "too much is being asked at once; try again");
    lib.soup_server_message_unpause(msg);
    answer_free(answer);
}

void
answers_begin(Answers *answers, SoupServerMessage *msg, Visit *visit)
{
    begin(answers, msg, visit, NULL, NULL);
}

void
answers_scan(Answers *answers, SoupServerMessage *msg, Visit *visit, char *part, char *file)
{
    begin(answers, msg, visit, part, file);
}

void
answers_cancel(Answers *answers)
{
    GHashTableIter iter;
    gpointer answer;
    g_hash_table_iter_init(&iter, answers->open);
    while (g_hash_table_iter_next(&iter, &answer, NULL))
        g_atomic_int_set(&((Answer *) answer)->visit->cancelled, 1);
}
