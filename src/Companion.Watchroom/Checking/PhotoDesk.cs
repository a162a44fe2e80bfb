using System.Diagnostics;
using System.Text.Json;
using Companion.Papers.Reading;

namespace Companion.Watchroom.Checking;

/// <summary>
/// Reads photographs of strangers in a process of its own: a picture that breaks the decoder ends that process and not the watch. Few at once,
/// each for a short time. Any thread.
/// </summary>
internal sealed class PhotoDesk : IDisposable
{
    /// <summary>The verb under which this program reads one photograph from its standard input.</summary>
    public const string Verb = "read-photo";

    /// <summary>How many are read at once.</summary>
    public const int MostAtOnce = 2;

    private const string MostManagedMemory = "0x18000000";
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20);
    private readonly SemaphoreSlim free = new(MostAtOnce, MostAtOnce);

    /// <summary>Reads one; null when there was no time for it.</summary>
    public async Task<PhotoReading?> ReadAsync(ReadOnlyMemory<byte> photo, CancellationToken cancellation)
    {
        using var end = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        end.CancelAfter(Longest);
        try
        {
            await free.WaitAsync(end.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            return null;
        }

        try
        {
            return await AskAsync(photo, end.Token).ConfigureAwait(false);
        }
        finally
        {
            free.Release();
        }
    }

    /// <summary>The other side: reads the photograph, writes what it found.</summary>
    public static async Task<int> AnswerAsync(Stream input, TextWriter output)
    {
        using var photo = new MemoryStream();
        await input.CopyToAsync(photo).ConfigureAwait(false);
        await output.WriteAsync(JsonSerializer.Serialize(PaperPhoto.Read(photo.GetBuffer().AsSpan(0, (int)photo.Length)))).ConfigureAwait(false);
        return 0;
    }

    /// <inheritdoc/>
    public void Dispose() => free.Dispose();

    private static async Task<PhotoReading?> AskAsync(ReadOnlyMemory<byte> photo, CancellationToken end)
    {
        using var process = Process.Start(Start())!;
        try
        {
            await process.StandardInput.BaseStream.WriteAsync(photo, end).ConfigureAwait(false);
            process.StandardInput.Close();
            var answer = await process.StandardOutput.ReadToEndAsync(end).ConfigureAwait(false);
            await process.WaitForExitAsync(end).ConfigureAwait(false);
            return JsonSerializer.Deserialize<PhotoReading>(answer);
        }
        catch (Exception fault) when (fault is IOException or JsonException)
        {
            // It broke the reader: for whoever sent it that is a picture that cannot be read.
            return new PhotoReading(null, PhotoFault.NoPicture);
        }
        catch (OperationCanceledException)
        {
            return null;
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill();
            }
        }
    }

    /// <summary>This program again, as it was started: by its own name, or by the run time.</summary>
    private static ProcessStartInfo Start()
    {
        var library = typeof(PhotoDesk).Assembly.Location;
        var own = Path.ChangeExtension(library, null);
        var start = Environment.ProcessPath == own ? new ProcessStartInfo(own, [Verb]) : new ProcessStartInfo("dotnet", [library, Verb]);
        (start.RedirectStandardInput, start.RedirectStandardOutput) = (true, true);
        start.Environment["DOTNET_GCHeapHardLimit"] = MostManagedMemory;
        start.Environment["DOTNET_gcServer"] = "0";
        return start;
    }
}
