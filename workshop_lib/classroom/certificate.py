"""Would a learner's browser accept this certificate? Judged before the class opens."""

import contextlib
import ssl
import time

from workshop_lib.launcher.trouble import Trouble

SOON = 14  # days: a certificate that ends within them is worth a word


def refuse_unfit(certificate, key, domain=""):
    """Refuse a certificate that is none, is not the key's, has ended or is for another name."""
    names = [domain, f"learner.{domain}"] if domain else [""]
    for name in names:
        try:
            shake_hands(certificate, key, name)
        except ssl.SSLCertVerificationError as error:
            mend = f"it must name {domain} and *.{domain}" if name else "get one that holds today"
            raise Trouble(
                f"browsers would refuse the certificate {certificate}: {error.verify_message}; "
                f"{mend}"
            ) from error
        except (ssl.SSLError, ValueError) as error:
            said = getattr(error, "reason", None) or str(error)
            raise Trouble(
                f"{certificate} and {key} cannot be used ({said.lower().replace('_', ' ')}): give "
                "a certificate and its own key without a password, as PEM files"
            ) from error


def shake_hands(certificate, key, name=""):
    """Let a client meet a server with this certificate, in memory; return what the client saw.

    The certificate is trusted as it stands: who signed it is the browsers' matter.
    """
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(certificate, key, password="")
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = bool(name)
    client.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    client.load_verify_locations(certificate)
    there, back = ssl.MemoryBIO(), ssl.MemoryBIO()
    visitor = client.wrap_bio(back, there, server_hostname=name or None)
    host = server.wrap_bio(there, back, server_side=True)
    for side in (visitor, host, visitor):
        with contextlib.suppress(ssl.SSLWantReadError):
            side.do_handshake()
    return visitor.getpeercert()


def days_left(certificate, key):
    """Return for how many days a certificate still holds, as a whole number."""
    ends = ssl.cert_time_to_seconds(shake_hands(certificate, key)["notAfter"])
    return int((ends - time.time()) // 86400)
