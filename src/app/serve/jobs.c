/* Two pools. The main loop is the only place where done is called. While something is saved one reader less is at work: whoever waits
 * for his edit waits for one thing, and those who are told of it come after. */
#include "app/serve/jobs.h"

#include <glib.h>

/* One change makes every open page ask once, so as many readers may wait as there can be pages. */
enum { MOST_SAVING = 64, MOST_READING = 320, MOST_THREADS = 8 };

struct Jobs {
    GThreadPool *saving, *reading;
    int readers;
    unsigned open, saves;
    gint stopping;
};

typedef struct {
    Jobs *jobs;
    void (*work)(void *data);
    void (*done)(void *data);
    void *data;
    bool saves;
} Job;

static void
count_saves(Jobs *jobs, int more)
{
    jobs->saves = (unsigned) ((int) jobs->saves + more);
    int readers = jobs->saves > 0 ? MAX(jobs->readers - 1, 1) : jobs->readers;
    if (!g_atomic_int_get(&jobs->stopping)) /* else the pool is going */
        g_thread_pool_set_max_threads(jobs->reading, readers, NULL);
}

static gboolean
job_done(gpointer data)
{
    Job *job = data;
    job->jobs->open--;
    if (job->saves)
        count_saves(job->jobs, -1);
    job->done(job->data);
    g_free(job);
    return G_SOURCE_REMOVE;
}

static void
job_work(gpointer data, gpointer pool_data)
{
    Job *job = data;
    Jobs *jobs = pool_data;
    if (!g_atomic_int_get(&jobs->stopping))
        job->work(job->data);
    /* not g_main_context_invoke: it would call done here when the loop happens not to run */
    g_autoptr(GSource) source = g_idle_source_new();
    g_source_set_priority(source, G_PRIORITY_DEFAULT);
    g_source_set_callback(source, job_done, job, NULL);
    g_source_attach(source, NULL);
}

Jobs *
jobs_new(void)
{
    Jobs *jobs = g_new0(Jobs, 1);
    jobs->readers = (int) CLAMP(g_get_num_processors(), 2, MOST_THREADS);
    jobs->saving = g_thread_pool_new(job_work, jobs, 1, FALSE, NULL);
    jobs->reading = g_thread_pool_new(job_work, jobs, jobs->readers, FALSE, NULL);
    return jobs;
}

static Job *
push(Jobs *jobs, GThreadPool *pool, const Job *like)
{
    Job *job = g_memdup2(like, sizeof *like);
    jobs->open++;
    if (job->saves)
        count_saves(jobs, 1);
    g_thread_pool_push(pool, job, NULL);
    return job;
}

bool
jobs_push(Jobs *jobs, bool saves, void (*work)(void *data), void (*done)(void *data), void *data)
{
    GThreadPool *pool = saves ? jobs->saving : jobs->reading;
    if (g_thread_pool_unprocessed(pool) >= (saves ? MOST_SAVING : MOST_READING))
        return false;
    Job job = {.jobs = jobs, .work = work, .done = done, .data = data, .saves = saves};
    push(jobs, pool, &job);
    return true;
}

bool
jobs_go_on(Jobs *jobs, void (*work)(void *data), void (*done)(void *data), void *data)
{
    if (g_atomic_int_get(&jobs->stopping))
        return false;
    Job job = {.jobs = jobs, .work = work, .done = done, .data = data};
    g_thread_pool_move_to_front(jobs->reading, push(jobs, jobs->reading, &job));
    return true;
}

unsigned
jobs_open(const Jobs *jobs)
{
    return jobs->open;
}

void
jobs_free(Jobs *jobs)
{
    if (jobs == NULL)
        return;
    g_atomic_int_set(&jobs->stopping, 1);
    g_thread_pool_free(jobs->reading, FALSE, TRUE);
    g_thread_pool_free(jobs->saving, FALSE, TRUE);
    while (jobs->open > 0)
        g_main_context_iteration(NULL, TRUE);
    g_free(jobs);
}
