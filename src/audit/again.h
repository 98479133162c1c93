/* SPDX-License-Identifier: MIT */
/*
 * again - one more audit of a load in which one thing was changed.
 */
#ifndef KM_AUDIT_AGAIN_H
#define KM_AUDIT_AGAIN_H

#include "kitmuster/audit.h"

/*
 * As km_audit_run(), without laying side by side again what lies so in known.
 *
 * known     an audit of the load as it was, which outlives the new one
 * changed   the kit in which something is not as it was; NULL: none
 */
enum km_status km_audit_again(const struct km_load *load,
			      const struct km_options *o,
			      const struct km_audit *known,
			      const struct km_kit *changed, struct km_diags *d,
			      struct km_audit **out);

#endif
