using System.Collections.Concurrent;
using System.Security.Cryptography;
using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Proving;

/// <summary>
/// Counter-signs what tablets sign: every head that arrives becomes a leaf of one tree, whose head is signed with the watch room's own key and
/// journalled. What a kill left undone is found at the next start, because the received chains tell it. Callable from any thread.
/// </summary>
internal sealed class CounterSigner : IAsyncDisposable
{
    /// <summary>The folder in the watch room's store.</summary>
    public const string Folder = "proof";

    private const string KeyName = "tree.key";
    private const string TreeName = "heads.tree";
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    private readonly LocalDisk disk = new();
    private readonly string folder;
    private readonly IJournalReceiver receiver;
    private readonly Audit audit;
    private readonly TimeProvider time;
    private readonly ConcurrentDictionary<string, bool> due;
    private readonly ConcurrentDictionary<string, TabletHeads> tablets = new();
    private readonly SemaphoreSlim one = new(1, 1);
    private readonly CancellationTokenSource end = new();
    private readonly Task loop;
    private SigningKey? key;
    private HeadTree? tree;
    private SignedTreeHead? unwritten;
    private bool isBlocked;

    public CounterSigner(string store, IJournalReceiver receiver, IEnumerable<string> devices, Audit audit, TimeProvider time)
    {
        (this.receiver, this.audit, this.time) = (receiver, audit, time);
        folder = PrivateFolder.Make(Path.Combine(store, Folder));
        due = new(devices.Select(device => KeyValuePair.Create(device, true)));
        loop = Task.Run(RunAsync);
    }

    /// <summary>Why nothing is counter-signed, in plain words; null while all is well. The board shows it.</summary>
    public string? Fault { get; private set; }

    /// <summary>The public key in the store as PEM; null before the first start.</summary>
    public static string? PublicPem(string store)
    {
        using var kept = KeyOf(store);
        return kept is null ? null : PemEncoding.WriteString("PUBLIC KEY", Convert.FromBase64String(kept.PublicKey));
    }

    /// <summary>The key in the store, for the caller to dispose of; null before the first start.</summary>
    public static SigningKey? KeyOf(string store) => SigningKey.Read(new LocalDisk(), Path.Combine(store, Folder, KeyName));

    /// <summary>Something of the tablet's own chain arrived. Never waits.</summary>
    public void Arrived(string device) => due[device] = true;

    /// <summary>The proof of a job for a record of it; null when no head that fits the record has been counter-signed.</summary>
    public Task<ProofDocument?> ProofAsync(string device, string job, IReadOnlyDictionary<long, string> hashes) => WithTreeAsync(held =>
    {
        Look(held, device);
        return held.Proof(device, job, hashes.GetValueOrDefault, Tablet(device).KeyOf);
    });

    /// <summary>The newest signed head of the tree; null while it has no leaf.</summary>
    public Task<SignedTreeHead?> HeadAsync() => WithTreeAsync(held => held.Head);

    /// <summary>What shows that the tree only grew since it had so many leaves; null when it never had.</summary>
    public Task<TreeGrowth?> GrowthAsync(long first) => WithTreeAsync(held => held.Growth(first) is { } growth && held.Head is { } head
        ? new TreeGrowth(first, growth.FirstRoot, head, [.. growth.Path.Select(Convert.ToHexStringLower)])
        : null);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await end.CancelAsync().ConfigureAwait(false);
        await loop.ConfigureAwait(false);
        key?.Dispose();
        one.Dispose();
        end.Dispose();
    }

    private async Task RunAsync()
    {
        using var timer = new PeriodicTimer(LookEvery);
        try
        {
            do
            {
                await LookAsync().ConfigureAwait(false);
            }
            while (await timer.WaitForNextTickAsync(end.Token).ConfigureAwait(false));
        }
        catch (OperationCanceledException)
        {
            // What is due is found again at the next start.
        }
    }

    private async Task LookAsync()
    {
        if (due.IsEmpty && tree is not null)
        {
            return;
        }

        await WithTreeAsync(held =>
        {
            foreach (var device in due.Keys)
            {
                Look(held, device);
            }

            return held;
        }).ConfigureAwait(false);
    }

    /// <summary>Takes what arrived of a tablet; what fails stays due.</summary>
    private void Look(HeadTree held, string device)
    {
        if (!due.TryRemove(device, out _))
        {
            return;
        }

        var before = held.Head?.Size;
        try
        {
            var found = Tablet(device).Look(receiver);
            foreach (var misfit in found.Select(head => head.Misfit).OfType<string>())
            {
                audit.Refused(device, "head", StatusCodes.Status422UnprocessableEntity, misfit);
            }

            foreach (var leaves in found.Select(head => head.Leaf).OfType<HeadLeaf>().Where(leaf => !held.Holds(leaf.Entry)).Chunk(HeadTree.MostAtOnce))
            {
                held.Add(leaves, time.GetUtcNow());
            }

            Fault = null;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException or FormatException)
        {
            // Looked at from the first entry again: what the tree holds already is not added twice.
            Fault = $"What {device} signed is not counter-signed: {cause.Message} It is tried again.";
            tablets.TryRemove(device, out _);
            due[device] = true;
        }

        if (held.Head is { } head && head.Size != before)
        {
            unwritten = head;
        }
    }

    private TabletHeads Tablet(string device) => tablets.GetOrAdd(device, name => new TabletHeads(name));

    private async Task<T?> WithTreeAsync<T>(Func<HeadTree, T?> use)
    {
        await one.WaitAsync(end.Token).ConfigureAwait(false);
        try
        {
            if (tree is null && !isBlocked && (tree = Load()) is not null)
            {
                // A kill may have come between the tree and the journal: twice is better than never.
                unwritten = tree.Head;
            }

            var result = tree is null ? default : use(tree);
            await JournalAsync().ConfigureAwait(false);
            return result;
        }
        finally
        {
            one.Release();
        }
    }

    private async Task JournalAsync()
    {
        if (unwritten is not { } head)
        {
            return;
        }

        unwritten = null;
        await audit.ActAsync(
            "tree.signed",
            new { size = head.Size, root = head.Root, time = head.Time, keyid = HeadStatement.KeyId(key!.PublicKey), signature = head.Signature }).ConfigureAwait(false);
    }

    private HeadTree? Load()
    {
        var path = Path.Combine(folder, TreeName);
        try
        {
            key ??= KeyFor(path);
            return HeadTree.Load(disk, path, key);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException or FormatException)
        {
            isBlocked = true;
            Fault = $"Nothing is counter-signed: {path} cannot be gone on with ({cause.Message}). Keep the folder as it is and have somebody look; put back a copy, "
                + "or move it away for a new tree, and start the watch room again.";
            return null;
        }
    }

    /// <summary>The key, made with the tree. A tree whose key is gone is not gone on with by another.</summary>
    private SigningKey KeyFor(string path)
    {
        var file = Path.Combine(folder, KeyName);
        return SigningKey.Read(disk, file)
            ?? (disk.Exists(path) || disk.Exists(file) ? throw new FormatException($"{file} is missing or holds no key") : SigningKey.Create(disk, file));
    }
}

/// <summary>A tree that only grew: its root then, its signed head now, and the path between (RFC 6962, section 2.1.2).</summary>
/// <param name="First">Leaves then.</param>
/// <param name="FirstRoot">The root then, lower-case hex.</param>
/// <param name="Second">The head now.</param>
/// <param name="Path">The consistency proof, lower-case hex.</param>
internal sealed record TreeGrowth(long First, string FirstRoot, SignedTreeHead Second, IReadOnlyList<string> Path);
