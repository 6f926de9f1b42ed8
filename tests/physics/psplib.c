#include "psplib.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
insist(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "psplib: %s\n", what);
    exit(3);
}

static long
number(char **at)
{
    char *end;
    long value = strtol(*at, &end, 10);
    insist(end != *at, "a number is missing");
    *at = end;
    return value;
}

/* Goes past the next line that begins so, and past more lines. */
static void
seek(FILE *file, char line[], size_t size, const char *begin, int more)
{
    while (fgets(line, (int) size, file) != NULL)
        if (strncmp(line, begin, strlen(begin)) == 0) {
            for (int i = 0; i < more; i++)
                insist(fgets(line, (int) size, file) != NULL, "the file ends early");
            return;
        }
    insist(false, begin);
}

static void
project_read(FILE *file, PsplibProject *p)
{
    char line[256], *at;
    seek(file, line, sizeof line, "jobs (incl.", 0);
    at = strchr(line, ':') + 1;
    p->n = (size_t) number(&at);
    insist(p->n <= PSPLIB_TASKS, "too many tasks");
    seek(file, line, sizeof line, "PRECEDENCE", 1);
    for (size_t i = 0; i < p->n; i++) {
        insist((at = fgets(line, sizeof line, file)) != NULL, "the file ends early");
        number(&at);
        number(&at);
        for (long k = number(&at); k > 0; k--) {
            insist(p->ties < PSPLIB_TIES, "too many ties");
            p->tie[p->ties++] = (Tie){i, (size_t) number(&at) - 1, TIE_FINISH_START, 0.0};
        }
    }
    seek(file, line, sizeof line, "REQUESTS", 2);
    for (size_t i = 0; i < p->n; i++) {
        insist((at = fgets(line, sizeof line, file)) != NULL, "the file ends early");
        number(&at);
        number(&at);
        p->duration_h[i] = (double) number(&at);
        for (size_t k = 0; k < RCPSP_KINDS; k++)
            p->need[i][k] = (unsigned) number(&at);
    }
    seek(file, line, sizeof line, "RESOURCEAVAIL", 2);
    at = line;
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        p->capacity[k] = (unsigned) number(&at);
}

void
psplib_read(const char *folder, PsplibProject project[])
{
    char path[4096], line[512];
    insist(snprintf(path, sizeof path, "%s/j30.csv", folder) > 0, folder);
    FILE *list = fopen(path, "r");
    insist(list != NULL && fgets(line, sizeof line, list) != NULL, "j30.csv is missing");
    for (size_t i = 0; i < PSPLIB_PROJECTS; i++) {
        PsplibProject *p = &project[i];
        memset(p, 0, sizeof *p);
        insist(fgets(line, sizeof line, list) != NULL, "j30.csv ends early");
        char *at = strchr(line, ',');
        insist(at != NULL && at - line < (long) sizeof p->name, "j30.csv: a name is expected");
        memcpy(p->name, line, (size_t) (at - line));
        for (size_t k = 0; k < PSPLIB_COLUMNS; k++) {
            at++;
            p->column[k] = (int) number(&at);
        }
        insist(snprintf(path, sizeof path, "%s/%s", folder, p->name) > 0, folder);
        FILE *file = fopen(path, "r");
        insist(file != NULL, path);
        project_read(file, p);
        fclose(file);
    }
    fclose(list);
}

RcpspGiven
psplib_given(const PsplibProject *project)
{
    RcpspGiven given = {
        .net = {.n = project->n, .ties = project->ties, .tie = project->tie},
        .duration_h = project->duration_h,
        .need = project->need,
    };
    memcpy(given.capacity, project->capacity, sizeof given.capacity);
    return given;
}
