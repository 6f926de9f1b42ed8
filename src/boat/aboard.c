/* What is aboard at a stage: what is to be removed, until it goes; what is to be fitted, from then on. */
#include "boat/aboard.h"

bool
item_aboard(const Item *item, Stage stage)
{
    switch (item->state) {
    case ITEM_ABOARD:
        return true;
    case ITEM_TO_REMOVE:
        return stage == STAGE_NOW;
    case ITEM_TO_FIT:
        return stage == STAGE_DONE;
    default:
        return false;
    }
}
