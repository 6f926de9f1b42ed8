/* What a record is called. */
#include "study/words.h"

#include "boat/model.h"

char *
study_name(const Record *record)
{
    const char *what = record_what(record);
    if (what != NULL)
        return g_strdup(what);
    if (record->section == &section_tank)
        return study_name(record->parent);
    return g_strdelimit(g_strdup(record->id), "-", ' ');
}
