using Companion.Benchmarks;

// One JSON object on standard output for the area named; anything else goes to standard error.
switch (args)
{
    case ["voice"]:
        VoiceBenchmark.Run(Console.Out);
        return 0;
    default:
        Console.Error.WriteLine("Say which area: voice.");
        return 2;
}
