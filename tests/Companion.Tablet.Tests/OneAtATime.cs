// Every class here has a browser and clocks that matter: two at once would starve each other on a small machine.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
