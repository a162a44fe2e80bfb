using System.Security.Cryptography;
using Companion.Domain.Sheets;
using Companion.Engine.Codec;
using Companion.Journal.Format;

namespace Companion.Tablet;

/// <summary>What tells two sheets apart: SHA-256 over the RFC 8785 form of what they say, whatever the layout of their files.</summary>
public static class SheetDigest
{
    /// <summary>The digest as lower-case hex.</summary>
    public static string Of(Sheet sheet) =>
        Convert.ToHexStringLower(SHA256.HashData(CanonicalJson.OfText(SheetJson.Write(sheet).ToJsonString())));
}
