using System.Buffers;
using System.Collections.Concurrent;
using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Format;

namespace Companion.Journal.Frames;

/// <summary>
/// The personal texts and salts, beside the chain and by entry hash. Appended before the entry itself, so an interrupted append
/// leaves at most a text without an entry, dropped at the next opening. Erasing rewrites the whole file, so that nothing of the
/// text stays in it but an empty set of texts by which an erased one is told from a lost one. Appends and erasures by the journal's writer; look-ups from any thread.
/// </summary>
internal sealed class SealedFile : IDisposable
{
    /// <summary>The texts of an entry whose texts were erased.</summary>
    public static readonly SealedTexts Nothing = new Dictionary<string, SealedText>();

    private readonly IDisk disk;
    private readonly string path;
    private readonly ConcurrentDictionary<string, SealedTexts> texts;
    private FrameFile file;

    private SealedFile(IDisk disk, string path, ConcurrentDictionary<string, SealedTexts> texts, FrameFile file)
    {
        this.disk = disk;
        this.path = path;
        this.texts = texts;
        this.file = file;
    }

    /// <summary>Reads the texts of a file without changing it, also those behind damage.</summary>
    public static SealedFileState Read(IDisk disk, string path, IDictionary<string, SealedTexts> into)
    {
        if (!disk.Exists(path))
        {
            return SealedFileState.Sound;
        }

        using var source = disk.OpenRead(path);
        var reader = new FrameReader(source);
        var fits = true;
        foreach (var payload in reader.Whole())
        {
            fits &= TryDecode(payload, into);
        }

        var beyond = reader.Beyond().ToList();
        beyond.ForEach(payload => TryDecode(payload, into));
        return !fits || beyond.Count > 0 ? SealedFileState.Damaged : reader.IsRagged ? SealedFileState.Ragged : SealedFileState.Sound;
    }

    /// <summary>Writes the file anew with just these texts and opens it.</summary>
    public static SealedFile Rewrite(IDisk disk, string path, IEnumerable<KeyValuePair<string, SealedTexts>> keep)
    {
        var texts = new ConcurrentDictionary<string, SealedTexts>(keep);
        return new SealedFile(disk, path, texts, WriteAll(disk, path, texts));
    }

    /// <summary>The texts of an entry that have not been erased.</summary>
    public SealedTexts Of(string hash) => texts.GetValueOrDefault(hash, Nothing);

    /// <summary>Makes the texts of some entries durable, in one frame.</summary>
    public void Append(IReadOnlyList<JournalEntry> entries)
    {
        var withTexts = entries.Where(e => e.Sealed.Count > 0).ToList();
        if (withTexts.Count == 0)
        {
            return;
        }

        file.Append(Encode(withTexts.Select(e => KeyValuePair.Create(e.Hash, e.Sealed))));
        foreach (var entry in withTexts)
        {
            texts[entry.Hash] = entry.Sealed;
        }
    }

    /// <summary>Erases texts of entries, by giving what is left of each: the file is replaced by one that never held the others.</summary>
    public void Replace(IReadOnlyDictionary<string, SealedTexts> left)
    {
        file.Dispose();
        file = WriteAll(disk, path, texts.Select(known => left.TryGetValue(known.Key, out var kept) ? KeyValuePair.Create(known.Key, kept) : known));
        foreach (var (hash, kept) in left)
        {
            texts[hash] = kept;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    private static FrameFile WriteAll(
        IDisk disk, string path, IEnumerable<KeyValuePair<string, SealedTexts>> texts)
    {
        var fresh = path + StoreFiles.NewSuffix;
        FrameFile.WriteNew(disk, fresh, texts.Select(t => new ReadOnlyMemory<byte>(Encode([t]))));
        disk.Rename(fresh, path);
        disk.SyncDirectory(Path.GetDirectoryName(path)!);
        using var written = disk.OpenRead(path);
        var end = written.Length;
        return FrameFile.OpenAt(disk, path, end);
    }

    private static byte[] Encode(IEnumerable<KeyValuePair<string, SealedTexts>> entries)
    {
        var output = new ArrayBufferWriter<byte>();
        using var writer = new Utf8JsonWriter(output);
        writer.WriteStartObject();
        foreach (var (hash, texts) in entries)
        {
            writer.WritePropertyName(hash);
            SealedJson.Write(writer, texts);
        }

        writer.WriteEndObject();
        writer.Flush();
        return output.WrittenSpan.ToArray();
    }

    private static bool TryDecode(byte[] payload, IDictionary<string, SealedTexts> into)
    {
        try
        {
            using var document = CanonicalJson.Parse(payload);
            foreach (var member in document.RootElement.EnumerateObject())
            {
                into[member.Name] = SealedJson.Read(member.Value);
            }

            return true;
        }
        catch (FormatException)
        {
            return false;
        }
    }
}
