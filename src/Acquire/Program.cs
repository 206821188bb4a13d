using Acquire.Commands;
using Acquire.Hosting;

return await Application.RunAsync(args, Surroundings.OfProcess());
