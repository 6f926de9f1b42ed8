/* Two pools. The main loop is the only place where done is called. */
#include "app/serve/jobs.h"

#include <glib.h>

/* One change makes every open page ask once, so as many readers may wait as there can be pages. */
enum { MOST_SAVING = 64, MOST_READING = 320, MOST_THREADS = 8 };

struct Jobs {
    GThreadPool *saving, *reading;
    unsigned open;
    gint stopping;
};

typedef struct {
    Jobs *jobs;
    void (*work)(void *data);
    void (*done)(void *data);
    void *data;
} Job;

static gboolean
job_done(gpointer data)
{
    Job *job = data;
    job->jobs->open--;
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
    int threads = (int) CLAMP(g_get_num_processors(), 2, MOST_THREADS);
    jobs->saving = g_thread_pool_new(job_work, jobs, 1, FALSE, NULL);
    jobs->reading = g_thread_pool_new(job_work, jobs, threads, FALSE, NULL);
    return jobs;
}

bool
jobs_push(Jobs *jobs, bool saves, void (*work)(void *data), void (*done)(void *data), void *data)
{
    GThreadPool *pool = saves ? jobs->saving : jobs->reading;
    if (g_thread_pool_unprocessed(pool) >= (saves ? MOST_SAVING : MOST_READING))
        return false;
    Job *job = g_new(Job, 1);
    *job = (Job){.jobs = jobs, .work = work, .done = done, .data = data};
    jobs->open++;
    g_thread_pool_push(pool, job, NULL);
    // cppcheck-suppress memleak ; job_done frees it
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
