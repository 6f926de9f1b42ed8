/* What a record is called. */
#include "study/words.h"

#include "boat/model.h"

char *
study_name(const Record *record)
{
    const Field *what = section_field(record->section, "what");
    if (what != NULL && what->type == FIELD_TEXT) {
        const char *text = *(const char *const *) ((const char *) record->data + what->offset);
        if (text != NULL && *text != '\0')
            return g_strdup(text);
    }
    if (record->section == &section_tank)
        return study_name(record->parent);
    return g_strdelimit(g_strdup(record->id), "-", ' ');
}
