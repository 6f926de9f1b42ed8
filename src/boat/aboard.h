/* What is aboard at a stage. */
#pragma once

#include "boat/boat.h"
#include "boat/model.h"

bool item_aboard(const Item *item, Stage stage);
