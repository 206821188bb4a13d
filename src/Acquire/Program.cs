using Acquire;

return await Application.RunAsync(args, Surroundings.OfProcess());
