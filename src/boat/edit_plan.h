/* Which bytes an edit replaces: the layout of block and flow YAML, decided on the tree's spans. */
#pragma once

#include "boat/document.h"

typedef struct {
    size_t from, to;
    char *insert; /* owned */
} Splice;

typedef struct {
    const char *text;
    gsize length;
    const Node *root;
    GArray *splices; /* of Splice, ascending, none overlapping */
} EditPlan;

void edit_plan_init(EditPlan *plan, const Document *document);
void edit_plan_clear(EditPlan *plan);

/* `block` and `flow` are the value as it is written outside and inside brackets. Each returns false
 * with *error when the layout does not allow the edit. */
bool plan_set(EditPlan *plan, const Node *node, const char *block, const char *flow,
              GError **error);
/* keys[n]: the key of the new entry and of the maps that it needs, outermost first. */
bool plan_add(EditPlan *plan, const Node *parent, size_t n, char *const keys[], const char *block,
              const char *flow, GError **error);
bool plan_remove(EditPlan *plan, const Node *node, GError **error);
/* The text with the splices made; g_free. */
char *plan_text(const EditPlan *plan, gsize *new_length);
