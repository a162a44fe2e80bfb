using System.Security.Cryptography;
using System.Text;

namespace Companion.Papers.Coding;

/// <summary>
/// The code on a paper: a statement with the tablet's signature, as plain lines that any reader of QR codes shows as words; and check digits
/// for somebody who has only a keyboard. Immutable.
/// </summary>
/// <param name="Statement">What it states.</param>
/// <param name="Text">What the QR code holds.</param>
/// <param name="Digits">The check digits, see <see cref="CheckDigits"/>.</param>
public sealed record PaperCode(PaperStatement Statement, string Text, string Digits)
{
    /// <summary>Most bytes of a code: what a QR code of version 20 holds at error correction M (ISO/IEC 18004, byte mode).</summary>
    public const int MostBytes = 666;

    private const string KeyLine = "\nkey ";
    private const string SignLine = "\nsign ";

    /// <summary>Signs a statement. The signature differs each time; everything else is the same for the same record.</summary>
    public static PaperCode Of(PaperStatement statement, IPaperSigner signer)
    {
        var text = StatementText.Of(statement);
        var signed = text + KeyLine + signer.KeyId;
        return new PaperCode(
            statement, signed + SignLine + Convert.ToBase64String(signer.Sign(Encoding.UTF8.GetBytes(signed))), CheckDigits.Of(statement));
    }

    /// <summary>Reads a code and checks it. Total: whatever was scanned, it is accepted or refused in words.</summary>
    /// <param name="scanned">The text of the QR code.</param>
    /// <param name="publicKeyOf">The public key of a key id, base64 of the SubjectPublicKeyInfo; null for a key that is not known here.</param>
    public static PaperReading Read(string scanned, Func<string, string?> publicKeyOf)
    {
        var text = scanned.Trim();
        if (!text.StartsWith(StatementText.Opening, StringComparison.Ordinal) || text.Length == StatementText.Opening.Length)
        {
            return PaperReading.Refused("This is no code of a Companion paper. Scan the square code on the paper.");
        }

        if (text[StatementText.Opening.Length] is var version && version != StatementText.Version)
        {
            return PaperReading.Refused($"This code is of version {version}; only {StatementText.Version} is known here. Compare the paper with the record, or use a newer program.");
        }

        var sign = text.LastIndexOf(SignLine, StringComparison.Ordinal);
        var key = sign < 0 ? -1 : text.LastIndexOf(KeyLine, sign, StringComparison.Ordinal);
        if (key < 0 || SignatureIn(text[(sign + SignLine.Length)..]) is not { } signature || StatementText.Read(text[..key]) is not { } statement)
        {
            return PaperReading.Refused("The code is damaged: not all of it can be read. Scan it again, or type the check digits under it.");
        }

        var keyId = text[(key + KeyLine.Length)..sign];
        return publicKeyOf(keyId) is not { } publicKey
            ? PaperReading.Refused($"The code is signed with a key that is not known here ({keyId}). It proves nothing here.")
            : Fits(publicKey, text[..sign], signature)
                ? PaperReading.Accepted(statement)
                : PaperReading.Refused("The signature does not fit: these words are not what the tablet signed. Believe nothing on this paper, and scan it again.");
    }

    /// <summary>A signature has one spelling: base64 could hide a change in bits that it does not use.</summary>
    private static byte[]? SignatureIn(string text)
    {
        var bytes = new byte[64];
        return Convert.TryFromBase64String(text, bytes, out var length) && length == bytes.Length && Convert.ToBase64String(bytes) == text ? bytes : null;
    }

    private static bool Fits(string publicKey, string signed, byte[] signature)
    {
        using var key = ECDsa.Create();
        key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(publicKey), out _);
        return key.VerifyData(Encoding.UTF8.GetBytes(signed), signature, HashAlgorithmName.SHA256);
    }
}
