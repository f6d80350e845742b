#pragma once
// A certificate authority of this home and a certificate for this machine, so that phones on the
// home network can speak TLS with it. Browsers keep pages for use without network only under TLS.
//
// The authority is name-constrained: even with its key stolen, no phone that trusts it would accept
// a certificate for any name outside of the home (RFC 5280 section 4.2.1.10). The key never leaves
// the folder. Not here: how phones are made to trust it (web/trust.h).

#include <string>
#include <vector>

#include "core/time.h"

namespace warmside::web {

struct LocalCertificate {
  std::string certificate_file;  // PEM: the machine's, then the authority's
  std::string key_file;
  std::string authority_pem, authority_der;  // to be trusted
  std::string fingerprint;                   // SHA-256 of the authority: "AB:CD:..."
  std::vector<std::string> left_out;  // names and addresses that the authority may not vouch for
};

/// Makes what is missing in the folder (mode 0700, files 0600) and makes the machine's certificate
/// anew when it lacks a name or address, is about to end, or is not the authority's. The authority
/// lasts ten years, the machine's certificate 397 days, since phones refuse longer ones; made anew
/// 60 days before. All three: common practice, no source.
/// names: as hosts are written; others are left out. Throws MachineFailure.
LocalCertificate local_certificate(const std::string& folder, const std::vector<std::string>& names,
                                   const std::vector<std::string>& addresses, Instant now);

}  // namespace warmside::web
