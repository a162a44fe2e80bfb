using System.Runtime.InteropServices;

namespace Companion.Benchmarks;

/// <summary>
/// The peer: pocketsphinx with its default model and a JSGF grammar of the same candidates, through libpocketsphinx (Debian
/// libpocketsphinx3, pocketsphinx-en-us). One thread.
/// </summary>
internal sealed partial class PeerRecogniser
{
    private const string Library = "libpocketsphinx.so.3";
    private const string Base = "libsphinxbase.so.3";
    private const string Model = "/usr/share/pocketsphinx/model/en-us/";

    private readonly nint decoder;

    private PeerRecogniser(nint decoder) => this.decoder = decoder;

    /// <summary>A decoder for the candidates; null with the reason when the peer is not installed.</summary>
    internal static PeerRecogniser? TryLoad(IEnumerable<string> candidates, out string? reason)
    {
        try
        {
            string[] arguments =
            [
                "bench", "-hmm", Model + "en-us", "-dict", Model + "cmudict-en-us.dict", "-logfn", "/dev/null",
            ];
            var configuration = Parse(0, Arguments(), arguments.Length, arguments, 0);
            var decoder = Init(configuration);
            var grammar = $"#JSGF V1.0; grammar g; public <g> = {string.Join(" | ", candidates)};";
            if (decoder == 0 || SetGrammar(decoder, "g", grammar) < 0 || SetSearch(decoder, "g") < 0)
            {
                reason = "pocketsphinx refused its model or the grammar.";
                return null;
            }

            reason = null;
            return new PeerRecogniser(decoder);
        }
        catch (DllNotFoundException fault)
        {
            reason = $"pocketsphinx is not installed ({fault.Message}).";
            return null;
        }
    }

    /// <summary>What the peer heard; empty when nothing.</summary>
    internal string Recognise(short[] samples)
    {
        _ = StartUtterance(decoder);
        _ = Process(decoder, samples, (nuint)samples.Length, 0, 1);
        _ = EndUtterance(decoder);
        return Marshal.PtrToStringUTF8(Hypothesis(decoder, out _)) ?? string.Empty;
    }

    [LibraryImport(Base, EntryPoint = "cmd_ln_parse_r", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint Parse(nint previous, nint definitions, int count, string[] arguments, int strict);

    [LibraryImport(Library, EntryPoint = "ps_args")]
    private static partial nint Arguments();

    [LibraryImport(Library, EntryPoint = "ps_init")]
    private static partial nint Init(nint configuration);

    [LibraryImport(Library, EntryPoint = "ps_set_jsgf_string", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int SetGrammar(nint decoder, string name, string grammar);

    [LibraryImport(Library, EntryPoint = "ps_set_search", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int SetSearch(nint decoder, string name);

    [LibraryImport(Library, EntryPoint = "ps_start_utt")]
    private static partial int StartUtterance(nint decoder);

    [LibraryImport(Library, EntryPoint = "ps_process_raw")]
    private static partial int Process(nint decoder, [In] short[] samples, nuint count, int noSearch, int whole);

    [LibraryImport(Library, EntryPoint = "ps_end_utt")]
    private static partial int EndUtterance(nint decoder);

    [LibraryImport(Library, EntryPoint = "ps_get_hyp")]
    private static partial nint Hypothesis(nint decoder, out int score);
}
