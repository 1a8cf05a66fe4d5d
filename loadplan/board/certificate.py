"""A certificate for `--tls`, made on the spot: its key lives in this program's memory and ends with it."""

import secrets
import ssl
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from tempfile import TemporaryDirectory

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from loadplan.board.tls_connection import Certificate

VALID = timedelta(days=30)
"""How long it counts. The program ends long before; a browser refuses what counts for years."""

CLOCKS = timedelta(days=1)
"""So far back it counts as well: a tablet's clock may be behind."""


def made(names: Sequence[str]) -> Certificate:
    """Make a key and a certificate that it signs itself.

    Args:
        names: Names and addresses by which this machine is reached (RFC 6125: all stand in the alternative names).

    Returns:
        The certificate, ready to serve with.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "loadplan, on this network")])
    now = datetime.now(UTC)
    signed = (
        x509
        .CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCKS)
        .not_valid_after(now + VALID)
        .add_extension(x509.SubjectAlternativeName([_alternative(each) for each in names]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    return Certificate(_context(signed, key), signed.fingerprint(hashes.SHA256()).hex(":").upper())


def _alternative(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _context(signed: x509.Certificate, key: ec.EllipticCurvePrivateKey) -> ssl.SSLContext:
    """Return what serves with a certificate.

    The standard library takes both from a file and in no other way. So one lies for a moment in a folder that nobody
    else can open, and the key in it is encrypted with a word that never leaves this function.
    """
    word = secrets.token_bytes(32).hex().encode()
    written = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.BestAvailableEncryption(word)
    )
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    with TemporaryDirectory(prefix="loadplan-") as folder:  # made with rights for its owner only
        path = Path(folder) / "certificate.pem"
        path.write_bytes(signed.public_bytes(serialization.Encoding.PEM) + written)
        context.load_cert_chain(path, password=word)
    return context
