using System.Buffers;
using System.Globalization;
using System.Text;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Journal.Format;

/// <summary>The attributes of an entry that vary, and the one place that knows their order in the canonical form.</summary>
internal sealed record EntryFields(
    string Chain,
    long Sequence,
    string Source,
    string Type,
    string Time,
    string BootId,
    long Uptime,
    bool Rehearsal,
    byte[] Data,
    string PreviousHash,
    int Format)
{
    /// <summary>The RFC 8785 form without the hash, and the place in it where the hash belongs. Attribute names sort as written here.</summary>
    public (byte[] Record, int HashPlace) Canonical()
    {
        var sequence = Sequence.ToString("D10", CultureInfo.InvariantCulture);
        var output = new ArrayBufferWriter<byte>(512 + Data.Length);
        output.Write("{\"bootid\":"u8);
        CanonicalJson.WriteString(BootId, output);
        output.Write(",\"data\":"u8);
        output.Write(Data);
        output.Write(",\"datacontenttype\":\"application/json\",\"dataschema\":"u8);
        CanonicalJson.WriteString(EntryFormat.NameOf(Format), output);
        var place = output.WrittenCount;
        output.Write(",\"id\":"u8);
        CanonicalJson.WriteString($"{Chain}/{sequence}", output);
        output.Write(",\"prevhash\":"u8);
        CanonicalJson.WriteString(PreviousHash, output);
        output.Write(Rehearsal ? ",\"rehearsal\":true"u8 : ",\"rehearsal\":false"u8);
        output.Write(",\"sequence\":"u8);
        CanonicalJson.WriteString(sequence, output);
        output.Write(",\"source\":"u8);
        CanonicalJson.WriteString(Source, output);
        output.Write(",\"specversion\":\"1.0\",\"time\":"u8);
        CanonicalJson.WriteString(Time, output);
        output.Write(",\"type\":"u8);
        CanonicalJson.WriteString(Type, output);
        output.Write(",\"uptime\":"u8);
        CanonicalJson.WriteString(Uptime.ToString(CultureInfo.InvariantCulture), output);
        output.Write("}"u8);
        return (output.WrittenSpan.ToArray(), place);
    }

    /// <summary>The member that belongs at that place.</summary>
    public static byte[] HashMember(string hash) => Encoding.ASCII.GetBytes($",\"hash\":\"{hash}\"");
}
