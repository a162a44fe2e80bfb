using Companion.Domain.Sheets;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Sheets;

namespace Companion.Tablet.Importing;

/// <summary>
/// Brings a sound sheet and its document into a store. The record comes first (I7): a power cut between record and copy leaves the store
/// with its earlier sheet, and the same import again completes it. What the record knows of a sheet counts, not what lies in the folder.
/// </summary>
/// <param name="journal">The open store.</param>
/// <param name="clock">The tablet's clock.</param>
/// <param name="folder">The store's folder of sheets.</param>
public sealed class SheetImport(IJournal journal, IClock clock, string folder)
{
    private readonly LocalDisk _disk = new();

    /// <summary>Imports, or says why not.</summary>
    public async Task<ImportOutcome> RunAsync(SheetFile file)
    {
        var sheet = file.Sheet;
        var latest = ImportRecord.Latest(journal, sheet.Id);
        if ((Older(file, latest) ?? Clash(file)) is { } reason)
        {
            return new(true, $"refused. {reason}");
        }

        var known = latest?.Edition == sheet.Edition;
        if (!known)
        {
            await journal.AppendAsync([ImportRecord.Draft(file, clock.Now())]).ConfigureAwait(false);
        }

        Copy(file);
        return new(false, known
            ? $"edition {sheet.Edition} of '{sheet.Id}' was imported before; its files were put in place again."
            : $"imported as sheet {sheet.Number}, edition {sheet.Edition} of '{sheet.Id}', approved by {sheet.Approver}.");
    }

    private static string? Older(SheetFile file, ImportRecord? latest)
    {
        var sheet = file.Sheet;
        if (latest is null || latest.Edition < sheet.Edition)
        {
            return null;
        }

        return latest.Edition > sheet.Edition
            ? $"Edition {latest.Edition} of '{sheet.Id}' was imported before, and this is edition {sheet.Edition}. Raise the edition with every change."
            : latest.Digest == SheetDigest.Of(sheet) && latest.AttachmentDigest == file.AttachmentDigest()
                ? null
            : $"Edition {sheet.Edition} of '{sheet.Id}' was imported before with other content. Raise the edition with every change.";
    }

    /// <summary>Two sheets with one number would both be left out; one document must not take the place of another sheet's.</summary>
    private string? Clash(SheetFile file)
    {
        var others = Directory.Exists(folder) ? SheetLibrary.Load(folder).Sheets.Where(other => other.Id != file.Sheet.Id).ToList() : [];
        return others.FirstOrDefault(other => other.Number == file.Sheet.Number) is { } same
            ? $"The number {same.Number} belongs to '{same.Id}' in this store. Give one of the two another number."
            : others.FirstOrDefault(other => TakesPlaceOf(file, other)) is { } owner
                ? $"'{owner.Id}' has another document named '{owner.Source.Attachment}' in this store. Give this one another name."
            : null;
    }

    private bool TakesPlaceOf(SheetFile file, Sheet other) =>
        file.Sheet.Source.Attachment is { } name && other.Source.Attachment == name
        && SheetFile.DigestOf(Path.Combine(folder, name)) != file.AttachmentDigest();

    /// <summary>The document first: a sheet is never there without it.</summary>
    private void Copy(SheetFile file)
    {
        _disk.CreateDirectory(folder);
        _disk.SyncDirectory(Path.GetDirectoryName(folder)!);
        if (file.AttachmentPath is { } attachment)
        {
            Put(attachment, file.Sheet.Source.Attachment!);
        }

        Put(file.Path, $"{file.Sheet.Id}.yaml");
    }

    private void Put(string from, string name)
    {
        var to = Path.Combine(folder, name);
        if (Path.GetFullPath(from) == Path.GetFullPath(to))
        {
            return;
        }

        using (var target = _disk.Open(to + StoreFiles.NewSuffix))
        {
            target.SetLength(0);
            target.Write(0, File.ReadAllBytes(from));
            target.Sync();
        }

        _disk.Rename(to + StoreFiles.NewSuffix, to);
        _disk.SyncDirectory(folder);
    }
}
