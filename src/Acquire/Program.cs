using Acquire.Commands;

return await Application.RunAsync(args, Surroundings.OfProcess());
