using Companion.Watchroom.Cli;

return await Verbs.RunAsync(args, Console.Out, Console.Error, Console.In);
