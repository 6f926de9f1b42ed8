/* Every method of physics, gathered from its headers by list_methods.py; ended by NULL. */
#pragma once

#include "base/source.h"

extern const Method *const all_methods[];
