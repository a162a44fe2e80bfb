using Companion.Simulation.Running;

return Simulate.Run(args, Console.Out);
