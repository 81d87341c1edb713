BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0003');
CREATE TABLE amendments (
	check_id VARCHAR(64) NOT NULL, 
	number INTEGER NOT NULL, 
	at VARCHAR(27) NOT NULL, 
	author TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	field VARCHAR(32) NOT NULL, 
	was TEXT NOT NULL, 
	value TEXT NOT NULL, 
	value_key TEXT NOT NULL, 
	bay VARCHAR(32) NOT NULL, 
	seal VARCHAR(64) NOT NULL, 
	previous_seal VARCHAR(64) NOT NULL, 
	seal_number INTEGER NOT NULL, 
	seal_form INTEGER NOT NULL, 
	CONSTRAINT pk_amendments PRIMARY KEY (check_id, number), 
	CONSTRAINT uq_amendments_bay UNIQUE (bay, seal_number), 
	CONSTRAINT fk_amendments_check_id_checks FOREIGN KEY(check_id) REFERENCES checks (check_id)
);
CREATE TABLE attachments (
	check_id VARCHAR(64) NOT NULL, 
	sha256 VARCHAR(64) NOT NULL, 
	name TEXT NOT NULL, 
	media_type VARCHAR(64) NOT NULL, 
	size INTEGER NOT NULL, 
	about VARCHAR(32) NOT NULL, 
	added_at VARCHAR(27) NOT NULL, 
	CONSTRAINT pk_attachments PRIMARY KEY (check_id, sha256), 
	CONSTRAINT fk_attachments_check_id_checks FOREIGN KEY(check_id) REFERENCES checks (check_id)
);
CREATE TABLE "checks" (
	check_id VARCHAR(64) NOT NULL, 
	number INTEGER NOT NULL, 
	opened_at VARCHAR(27) NOT NULL, 
	finished_at VARCHAR(27), 
	origin VARCHAR(16) NOT NULL, 
	invented BOOLEAN NOT NULL, 
	vin VARCHAR(17) NOT NULL, 
	vin_tail VARCHAR(8) NOT NULL, 
	plate TEXT NOT NULL, 
	odometer_km FLOAT, 
	work_order TEXT NOT NULL, 
	technician TEXT NOT NULL, 
	family TEXT NOT NULL, 
	sheet_id TEXT NOT NULL, 
	sheet_revision TEXT NOT NULL, 
	duty TEXT NOT NULL, 
	fluid TEXT NOT NULL, 
	verdict VARCHAR(32), 
	closing_celsius FLOAT, 
	added_litres FLOAT NOT NULL, 
	run_off_litres FLOAT NOT NULL, 
	seal VARCHAR(64) NOT NULL, 
	previous_seal VARCHAR(64) NOT NULL, 
	seal_number INTEGER, 
	bay VARCHAR(32) NOT NULL, 
	plate_key TEXT NOT NULL, 
	work_order_key TEXT NOT NULL, 
	notes TEXT NOT NULL, 
	seal_form INTEGER NOT NULL, 
	CONSTRAINT pk_checks PRIMARY KEY (check_id), 
	CONSTRAINT uq_checks_bay UNIQUE (bay, seal_number), 
	CONSTRAINT uq_checks_number UNIQUE (number)
);
INSERT INTO "checks" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',1,'2026-11-25T22:41:14.115315Z','2026-11-25T22:44:04.115315Z','replay',1,'0THFC3K71RL104218','RL104218','DEMO 17',84210.0,'HL-2041','R. Calloway (invented)','K7','family-car-demo','B','normal','TF-Clear','stopped',NULL,0.0,0.0,'040725d2b266ffe8485d4d6078399c8754423e0272cefd80351c06fee50467b3','',1,'1','demo17','hl2041','shifts late when cold.
the lift is needed for an emergency.',2);
INSERT INTO "checks" VALUES('finished-0001',2,'2031-05-06T12:00:00.000000Z','2031-05-06T12:00:08.000000Z','live',1,'ZZ9K7HARR0LANE123','0LANE123','HL 12 QR',84210.0,'WO-7','R. Quill','K7','tarnholm-k7','C','normal','TF-Clear','corrected',41.5,0.4,0.0,'e6e7cb393c7d93f8445f76b33dde40e6d97ce8047d62d73d69a4acd7b250b1d9','040725d2b266ffe8485d4d6078399c8754423e0272cefd80351c06fee50467b3',2,'1','hl12qr','wo7','slips in 2nd, says the customer',2);
INSERT INTO "checks" VALUES('open-00002',3,'2031-05-06T12:00:00.000000Z',NULL,'live',1,'','','',NULL,'','R. Quill','K7','tarnholm-k7','C','normal','',NULL,NULL,0.0,0.0,'','',NULL,'1','','','',2);
CREATE TABLE journal (
	check_id VARCHAR(64) NOT NULL, 
	seq INTEGER NOT NULL, 
	t FLOAT NOT NULL, 
	wall VARCHAR(27) NOT NULL, 
	kind VARCHAR(32) NOT NULL, 
	payload TEXT NOT NULL, 
	CONSTRAINT pk_journal PRIMARY KEY (check_id, seq), 
	CONSTRAINT fk_journal_check_id_checks FOREIGN KEY(check_id) REFERENCES checks (check_id)
);
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',1,0.0,'2026-11-25T22:41:14.115315Z','check_opened','{"t":0.0,"check_id":"abdaecd1c23b40b4adef1ec19a6216fd","opened_at":"2026-11-25T22:41:14.115315Z","origin":"replay","sheet":{"schema":1,"id":"family-car-demo","check_method":"idle_overflow","plug_out_engine":"idling","invented":true,"notice":"Invented for demonstration. Must not be used on a vehicle.","source":{"title":"Tarnholm demonstration leaflet FC-001 (invented)","date":"2026-04-20","revision":"B","status":"approved"},"transmission":{"maker":"Tarnholm","family":"K7","variants":["K7-H","K7-L"],"forward_ranges":7},"ranges":[{"name":"R","dwell":"4.0 s"},{"name":"N","dwell":"4.0 s"},{"name":"D","dwell":"5.0 s"}],"idle":{"speed_low":"560.0 rpm","speed_high":"760.0 rpm","time":"90.0 s","circulation_after_stop":"60.0 s"},"bands":{"normal":{"low":"65.0 °C","high":"85.0 °C","max_plug_out":null},"sustained_load":{"low":"92.0 °C","high":null,"max_plug_out":"105.0 °C"}},"fluids":[{"name":"TF-Clear","approval":"approved","condition":"","variants":[],"density_15":"846.0 kg/m³","viscosity_40":"28.5 mm²/s","viscosity_100":"5.9 mm²/s","expansion":null},{"name":"TF-Clear Alternate","approval":"approved","condition":"bulletin K7-B03 (invented): whole filling, never mixed","variants":["K7-L"],"density_15":"851.0 kg/m³","viscosity_40":"29.4 mm²/s","viscosity_100":"6.0 mm²/s","expansion":null},{"name":"TF-Red","approval":"refused","condition":"attacks the seals of the K7","variants":[],"density_15":null,"viscosity_40":null,"viscosity_100":null,"expansion":null}],"level":{"capacity":"8.6 L","acceptance":"0.15 L","pan_area":"0.115 m²","standpipe_forward":"-0.055 m","standpipe_right":"0.04 m","standpipe_bore":"0.008 m","allowed_tilt":"0.5 °","plug_hole":"0.009000000000000001 m","drip_rate":"2.0 drops/s","settle_time":"30.0 s","max_run_off":"1.0 L","max_run_off_time":"300.0 s","max_top_up":"1.0 L"},"plug":{"torque":"10.0 N·m","torque_tolerance":"1.0 N·m","seal":"replace"},"fill_paths":[{"name":"check plug with straight adapter","note":"Adapter 8 mm; hand pump."},{"name":"fill plug on the left of the case","note":""}],"warm_up":null,"cautions":[{"stage":"temperature","word":"CAUTION","text":"Sustained-load duty is checked far hotter than normal duty: insulated gloves."}],"signals":{"fluid_temperature":{"stale_after":"5.0 s","kind":"obd","pid":5,"response_id":2024},"engine_speed":{"stale_after":"5.0 s","kind":"obd","pid":12,"response_id":2024},"range":null,"vehicle_speed":{"stale_after":"5.0 s","kind":"obd","pid":13,"response_id":2024},"tester_present":null}},"duty":"normal","measured":["fluid_temperature"],"source":"recording family-car-curve.csv, a table of 2,390 rows over 39 min 49 s (engine coolant of a car being driven, stands in for transmission fluid)","technician":"R. Calloway (invented)","shop":"Harrow Lane Driveline (invented)","program":"0.1.0","procedure":4,"script":{"name":"abort","sha256":"8cbf3dcfa884ae68ee5400de79bbf68a03e8e4f5183a39083396b93282d62831"},"kind":"check_opened"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',2,0.0,'2026-11-25T22:41:14.115315Z','vehicle_identified','{"t":0.0,"happened":null,"vin":"0THFC3K71RL104218","work_order":"HL-2041","plate":"DEMO 17","odometer_km":84210.0,"complaint":"Shifts late when cold.","variant":"K7-H","drained":false,"vin_warning":"","kind":"vehicle_identified"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',3,0.0,'2026-11-25T22:41:14.115315Z','fluid_chosen','{"t":0.0,"happened":null,"product":"TF-Clear","lot":"C-0726","condition_confirmed":false,"kind":"fluid_chosen"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',4,0.0,'2026-11-25T22:41:14.115315Z','fill_path_chosen','{"t":0.0,"happened":null,"name":"check plug with straight adapter","litres_within_reach":2.0,"kind":"fill_path_chosen"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',5,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"fill_path_ready","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',6,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"pump_primed","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',7,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"fluid_within_reach","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',8,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"check_plug_identified","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',10,0.0,'2026-11-25T22:41:14.115315Z','sensor_checked','{"t":0.0,"happened":null,"ambient":22.0,"coolant":null,"infrared":21.0,"rested":true,"rest_s":null,"gun_emissivity":null,"kind":"sensor_checked"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',11,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"nobody_under","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',12,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"wheels_chocked","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',13,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"exhaust_extracted","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',14,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"auto_stop_disabled","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',15,0.0,'2026-11-25T22:41:14.115315Z','confirmed','{"t":0.0,"happened":null,"item":"brake_held","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',17,2.0,'2026-11-25T22:41:16.115315Z','engine_started','{"t":2.0,"happened":null,"kind":"engine_started"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',20,4.0,'2026-11-25T22:41:18.115315Z','range_selected','{"t":4.0,"happened":null,"range":"R","kind":"range_selected"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',25,8.0,'2026-11-25T22:41:22.115315Z','deadline_reached','{"t":8.0,"name":"range served","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',27,9.0,'2026-11-25T22:41:23.115315Z','range_selected','{"t":9.0,"happened":null,"range":"N","kind":"range_selected"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',32,13.0,'2026-11-25T22:41:27.115315Z','deadline_reached','{"t":13.0,"name":"range served","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',34,14.0,'2026-11-25T22:41:28.115315Z','range_selected','{"t":14.0,"happened":null,"range":"D","kind":"range_selected"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',40,19.0,'2026-11-25T22:41:33.115315Z','deadline_reached','{"t":19.0,"name":"range served","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',42,20.0,'2026-11-25T22:41:34.115315Z','range_selected','{"t":20.0,"happened":null,"range":"P","kind":"range_selected"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',45,22.0,'2026-11-25T22:41:36.115315Z','idle_speed_noted','{"t":22.0,"happened":null,"rpm":640.0,"kind":"idle_speed_noted"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',46,22.0,'2026-11-25T22:41:36.115315Z','confirmed','{"t":22.0,"happened":null,"item":"parking_brake","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',51,26.0,'2026-11-25T22:41:40.115315Z','confirmed','{"t":26.0,"happened":null,"item":"occupant_out","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',88,62.0,'2026-11-25T22:42:16.115315Z','deadline_reached','{"t":62.0,"name":"fluid circulated","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',137,110.0,'2026-11-25T22:43:04.115315Z','deadline_reached','{"t":110.0,"name":"idle time served","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',138,110.0,'2026-11-25T22:43:04.115315Z','confirmed','{"t":110.0,"happened":null,"item":"lift_locked","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',149,120.0,'2026-11-25T22:43:14.115315Z','confirmed','{"t":120.0,"happened":null,"item":"crew_clear","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',155,125.0,'2026-11-25T22:43:19.115315Z','confirmed','{"t":125.0,"happened":null,"item":"catch_pan","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',156,125.0,'2026-11-25T22:43:19.115315Z','confirmed','{"t":125.0,"happened":null,"item":"protection_worn","kind":"confirmed"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',177,145.0,'2026-11-25T22:43:39.115315Z','tilt_measured','{"t":145.0,"happened":null,"lengthwise":0.3,"lengthwise_turned":0.1,"crosswise":-0.2,"crosswise_turned":0.0,"kind":"tilt_measured"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',193,160.0,'2026-11-25T22:43:54.115315Z','check_aborted','{"t":160.0,"happened":null,"reason":"The lift is needed for an emergency.","plug_left_out":false,"kind":"check_aborted"}');
INSERT INTO "journal" VALUES('abdaecd1c23b40b4adef1ec19a6216fd',204,170.0,'2026-11-25T22:44:04.115315Z','check_closed','{"t":170.0,"happened":null,"verdict":"stopped","reasons":["aborted: The lift is needed for an emergency."],"recheck_after_drive":false,"kind":"check_closed"}');
INSERT INTO "journal" VALUES('finished-0001',1,0.0,'2031-05-06T12:00:00.000000Z','check_opened','{"t":0.0,"check_id":"finished-0001","opened_at":"2031-05-06T12:00:00Z","origin":"live","sheet":{"schema":1,"id":"tarnholm-k7","check_method":"idle_overflow","plug_out_engine":"idling","invented":true,"notice":"Invented; not for use on a vehicle.","source":{"title":"Tarnholm K7 service leaflet","date":"2030-02-03","revision":"C","status":"approved"},"transmission":{"maker":"Tarnholm","family":"K7","variants":["K7-a","K7-b"],"forward_ranges":7},"ranges":[{"name":"R","dwell":"4.0 s"},{"name":"D","dwell":"6.0 s"}],"idle":{"speed_low":"550.0 rpm","speed_high":"750.0 rpm","time":"90.0 s","circulation_after_stop":"120.0 s"},"bands":{"normal":{"low":"35.0 °C","high":"45.0 °C","max_plug_out":null},"sustained load":{"low":"55.00000000000001 °C","high":null,"max_plug_out":"95.0 °C"}},"fluids":[{"name":"TF-Clear","approval":"approved","condition":"bulletin 3 applied","variants":[],"density_15":"842.5 kg/m³","viscosity_40":"29.6 mm²/s","viscosity_100":"6.0 mm²/s","expansion":"0.00083 1/K"},{"name":"TF-Thin","approval":"refused","condition":"","variants":[],"density_15":null,"viscosity_40":null,"viscosity_100":null,"expansion":null}],"level":{"capacity":"8.990352987 L","acceptance":"0.08 L","pan_area":"0.11 m²","standpipe_forward":"-0.035 m","standpipe_right":"0.02 m","standpipe_bore":"0.009000000000000001 m","allowed_tilt":"0.5 °","plug_hole":"0.012 m","drip_rate":"0.6666666666666666 drops/s","settle_time":"30.0 s","max_run_off":"1.5 L","max_run_off_time":"180.0 s","max_top_up":"2.0 L"},"plug":{"torque":"9.038786322209335 N·m","torque_tolerance":"1.0 N·m","seal":"replace"},"fill_paths":[{"name":"adapter","note":"screw in by hand"}],"warm_up":null,"cautions":[{"stage":"plug_out","word":"WARNING","text":"Fluid is hot."}],"signals":{"fluid_temperature":{"stale_after":"5.0 s","kind":"csv","column":"fluid"},"engine_speed":null,"range":{"stale_after":"2.5 s","kind":"uds","identifier":61712,"request_id":2017,"response_id":2025,"first_byte":0,"length":1,"signed":false,"scale":1.0,"offset":0.0,"not_available":[],"names":{"0":"P","7":"R"}},"vehicle_speed":null,"tester_present":null}},"duty":"normal","measured":["fluid_temperature","range"],"source":"bay 2","technician":"R. Quill","shop":"Harrow Lane Driveline","program":"0.1.0","procedure":1,"script":{"name":"runs off","sha256":"abababababababababababababababababababababababababababababababab"},"kind":"check_opened"}');
INSERT INTO "journal" VALUES('finished-0001',2,1.0,'2031-05-06T12:00:01.000000Z','vehicle_identified','{"t":1.0,"happened":null,"vin":"ZZ9K7HARR0LANE123","work_order":"WO-7 b","plate":"HL 12 QR","odometer_km":84210.0,"complaint":"Slips in 2nd, says the customer","variant":"","drained":false,"vin_warning":"","kind":"vehicle_identified"}');
INSERT INTO "journal" VALUES('finished-0001',5,4.0,'2031-05-06T12:00:04.000000Z','confirmed','{"t":4.0,"happened":null,"item":"catch_pan","kind":"confirmed"}');
INSERT INTO "journal" VALUES('finished-0001',6,5.0,'2031-05-06T12:00:05.000000Z','deadline_reached','{"t":5.0,"name":"dwell R","kind":"deadline_reached"}');
INSERT INTO "journal" VALUES('finished-0001',7,6.0,'2031-05-06T12:00:06.000000Z','plug_out','{"t":6.0,"happened":1.0,"kind":"plug_out"}');
INSERT INTO "journal" VALUES('open-00002',1,0.0,'2031-05-06T12:01:40.000000Z','check_opened','{"t":0.0,"check_id":"open-00002","opened_at":"2031-05-06T12:00:00Z","origin":"live","sheet":{"schema":1,"id":"tarnholm-k7","check_method":"idle_overflow","plug_out_engine":"idling","invented":true,"notice":"Invented; not for use on a vehicle.","source":{"title":"Tarnholm K7 service leaflet","date":"2030-02-03","revision":"C","status":"approved"},"transmission":{"maker":"Tarnholm","family":"K7","variants":["K7-a","K7-b"],"forward_ranges":7},"ranges":[{"name":"R","dwell":"4.0 s"},{"name":"D","dwell":"6.0 s"}],"idle":{"speed_low":"550.0 rpm","speed_high":"750.0 rpm","time":"90.0 s","circulation_after_stop":"120.0 s"},"bands":{"normal":{"low":"35.0 °C","high":"45.0 °C","max_plug_out":null},"sustained load":{"low":"55.00000000000001 °C","high":null,"max_plug_out":"95.0 °C"}},"fluids":[{"name":"TF-Clear","approval":"approved","condition":"bulletin 3 applied","variants":[],"density_15":"842.5 kg/m³","viscosity_40":"29.6 mm²/s","viscosity_100":"6.0 mm²/s","expansion":"0.00083 1/K"},{"name":"TF-Thin","approval":"refused","condition":"","variants":[],"density_15":null,"viscosity_40":null,"viscosity_100":null,"expansion":null}],"level":{"capacity":"8.990352987 L","acceptance":"0.08 L","pan_area":"0.11 m²","standpipe_forward":"-0.035 m","standpipe_right":"0.02 m","standpipe_bore":"0.009000000000000001 m","allowed_tilt":"0.5 °","plug_hole":"0.012 m","drip_rate":"0.6666666666666666 drops/s","settle_time":"30.0 s","max_run_off":"1.5 L","max_run_off_time":"180.0 s","max_top_up":"2.0 L"},"plug":{"torque":"9.038786322209335 N·m","torque_tolerance":"1.0 N·m","seal":"replace"},"fill_paths":[{"name":"adapter","note":"screw in by hand"}],"warm_up":null,"cautions":[{"stage":"plug_out","word":"WARNING","text":"Fluid is hot."}],"signals":{"fluid_temperature":{"stale_after":"5.0 s","kind":"csv","column":"fluid"},"engine_speed":null,"range":{"stale_after":"2.5 s","kind":"uds","identifier":61712,"request_id":2017,"response_id":2025,"first_byte":0,"length":1,"signed":false,"scale":1.0,"offset":0.0,"not_available":[],"names":{"0":"P","7":"R"}},"vehicle_speed":null,"tester_present":null}},"duty":"normal","measured":["fluid_temperature","range"],"source":"bay 2","technician":"R. Quill","shop":"Harrow Lane Driveline","program":"0.1.0","procedure":1,"script":{"name":"runs off","sha256":"abababababababababababababababababababababababababababababababab"},"kind":"check_opened"}');
INSERT INTO "journal" VALUES('open-00002',2,1.0,'2031-05-06T12:01:41.000000Z','vehicle_identified','{"t":1.0,"happened":null,"vin":"ZZ9K7HARR0LANE123","work_order":"WO-7 b","plate":"HL 12 QR","odometer_km":84210.0,"complaint":"Slips in 2nd, says the customer","variant":"","drained":false,"vin_warning":"","kind":"vehicle_identified"}');
INSERT INTO "journal" VALUES('open-00002',3,2.0,'2031-05-06T12:01:42.000000Z','reading','{"t":2.0,"signal":"fluid_temperature","value":40.0,"quality":"good","way":"bus","source":"obd 7E8 pid 05","kind":"reading"}');
INSERT INTO "journal" VALUES('open-00002',4,3.0,'2031-05-06T12:01:43.000000Z','confirmed','{"t":3.0,"happened":null,"item":"catch_pan","kind":"confirmed"}');
CREATE TABLE traces (
	check_id VARCHAR(64) NOT NULL, 
	signal VARCHAR(32) NOT NULL, 
	form INTEGER NOT NULL, 
	count INTEGER NOT NULL, 
	content BLOB NOT NULL, 
	CONSTRAINT pk_traces PRIMARY KEY (check_id, signal), 
	CONSTRAINT fk_traces_check_id_checks FOREIGN KEY(check_id) REFERENCES checks (check_id)
);
INSERT INTO "traces" VALUES('abdaecd1c23b40b4adef1ec19a6216fd','fluid_temperature',1,170,X'BC8A8B70D594316853511486FF7713D258A4C6A2C5A1C4E85084E2E06284404D90221232B84911A535D108B50D69528A9424A5680916248B1D82432919EAE050A48883838412C44142A114879612942241DBD0414C8CE7BEFB6EDEBB56AC93E07FEF3BE77C3FFF4D02E15D0DCF00D4AEF91E9E1A74C0060D47717B3879377C3311B9178BC40713C978C48E3BA3A3611B869263C7716B6CDCB32FC1402779D10E41A8C3CEEC8C317BABF0EAE08D1DACBFC958E5504F3A0EFE48139B9AD3F8C9587D82776F71FEA381715E6613B4674D46E94249E657803AFA56EAD4D187374B5B00FB0177651370D38C4AB71EABA0BB02AB1463CB4D8F3E31697D75D1B2E4773B7695F3BB1397303F8F1BEF0D8EF23217A53D6732822F82F2000D8B680F2E72A31D7BF1FB40EF2A1E14A80F14C82B0CE8B18220538AC143827AA5553E4BCB92578978FB11FAFBF1EAB4C1395E4672B4474C86B7E4950768D8C19A77871B6B38133D06CC4CE0739E7A384F5E3EACC7F2824C29060F099A915668899625AF1271CF30969771E583C1555E3AABB43B4D46763C2B0FD050C642B6CC8D055CCF3D07BAB671B548DD5724AFE8D3634541A61483870475496BE8292D4B5E25E2739F50ABE1F037832779999EA43D6D3202AF03F2000D21C402216EC4F0B87A1958EFC14B0FF50D0F799E0D3DE611644A317848D0BAB45C5F6859F22A113BBFA3D1E0EF835053D6A6956583F10234C44B40AD3E95C9A4A632A90CF574864B54B3B794FEDD9CF24B5DA465954A7EFFE649D79136A7B3CD2E64D36F054DDFFA24044D115A0DFF4C69FC77D2B413BF5A0C8CFE63C68B31F3C20C902398F542346E47262DA65C976CFF57B41AFBB3AF34517F02');
INSERT INTO "traces" VALUES('finished-0001','fluid_temperature',1,3,X'32CC32E6636460660082090507173E6003B219190419D2724A3353E24B52730B528B124B4A8B525918D2F3F3539819924A8BF918F2935214CC5D2D140A3253140C4C9918805A800403231B8700906461E36380012546C60550260F1B00');
CREATE TABLE warm_ups (
	check_id VARCHAR(64) NOT NULL, 
	points TEXT NOT NULL, 
	CONSTRAINT pk_warm_ups PRIMARY KEY (check_id), 
	CONSTRAINT fk_warm_ups_check_id_checks FOREIGN KEY(check_id) REFERENCES checks (check_id)
);
INSERT INTO "warm_ups" VALUES('abdaecd1c23b40b4adef1ec19a6216fd','[[0.0, 24.0], [10.0, 26.0], [20.0, 31.0], [30.0, 36.0], [40.0, 41.0], [50.01, 44.0], [61.01, 45.0], [71.01, 48.0], [81.01, 50.0], [91.02, 51.0], [101.02, 51.0], [111.02, 52.0], [121.02, 54.0], [131.02, 55.0], [141.02, 56.0], [151.02, 58.0], [161.02, 59.0]]');
INSERT INTO "warm_ups" VALUES('finished-0001','[[0.0, 20.0], [60.0, 31.5]]');
CREATE TRIGGER journal_no_insert BEFORE INSERT ON journal WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = NEW.check_id) BEGIN SELECT RAISE(ABORT, 'the journal of a finished check cannot grow'); END;
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id IN (OLD.check_id, NEW.check_id)) BEGIN SELECT RAISE(ABORT, 'the journal of a finished check cannot be changed'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = OLD.check_id) BEGIN SELECT RAISE(ABORT, 'the journal of a finished check cannot be deleted'); END;
CREATE INDEX ix_checks_vin ON checks (vin, opened_at, number);
CREATE INDEX ix_checks_vin_tail ON checks (vin_tail, opened_at, number);
CREATE INDEX ix_checks_plate_key ON checks (plate_key, opened_at, number);
CREATE INDEX ix_checks_work_order_key ON checks (work_order_key, opened_at, number);
CREATE INDEX ix_checks_family ON checks (family, opened_at, number);
CREATE INDEX ix_checks_opened_at ON checks (opened_at, number);
CREATE INDEX ix_amendments_field ON amendments (field, value_key);
CREATE INDEX ix_attachments_sha256 ON attachments (sha256);
CREATE TRIGGER checks_no_replace BEFORE INSERT ON checks WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND (c.check_id = NEW.check_id OR c.number = NEW.number OR (c.bay = NEW.bay AND c.seal_number = NEW.seal_number))) BEGIN SELECT RAISE(ABORT, 'a finished check cannot be replaced'); END;
CREATE TRIGGER checks_no_update BEFORE UPDATE ON checks WHEN OLD.finished_at IS NOT NULL OR EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND (c.check_id = NEW.check_id OR c.number = NEW.number OR (c.bay = NEW.bay AND c.seal_number = NEW.seal_number))) BEGIN SELECT RAISE(ABORT, 'a finished check cannot be changed'); END;
CREATE TRIGGER checks_no_delete BEFORE DELETE ON checks WHEN OLD.finished_at IS NOT NULL BEGIN SELECT RAISE(ABORT, 'a finished check cannot be deleted'); END;
CREATE TRIGGER traces_no_insert BEFORE INSERT ON traces WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = NEW.check_id) BEGIN SELECT RAISE(ABORT, 'the readings of a finished check cannot grow'); END;
CREATE TRIGGER traces_no_update BEFORE UPDATE ON traces WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id IN (OLD.check_id, NEW.check_id)) BEGIN SELECT RAISE(ABORT, 'the readings of a finished check cannot be changed'); END;
CREATE TRIGGER traces_no_delete BEFORE DELETE ON traces WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = OLD.check_id) BEGIN SELECT RAISE(ABORT, 'the readings of a finished check cannot be deleted'); END;
CREATE TRIGGER attachments_no_insert BEFORE INSERT ON attachments WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = NEW.check_id) BEGIN SELECT RAISE(ABORT, 'the attachments of a finished check cannot grow'); END;
CREATE TRIGGER attachments_no_update BEFORE UPDATE ON attachments WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id IN (OLD.check_id, NEW.check_id)) BEGIN SELECT RAISE(ABORT, 'the attachments of a finished check cannot be changed'); END;
CREATE TRIGGER attachments_no_delete BEFORE DELETE ON attachments WHEN EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = OLD.check_id) BEGIN SELECT RAISE(ABORT, 'the attachments of a finished check cannot be deleted'); END;
CREATE TRIGGER amendments_no_insert BEFORE INSERT ON amendments WHEN NOT EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND c.check_id = NEW.check_id) OR EXISTS (SELECT 1 FROM amendments AS a WHERE (a.check_id = NEW.check_id AND a.number = NEW.number) OR (a.bay = NEW.bay AND a.seal_number = NEW.seal_number)) BEGIN SELECT RAISE(ABORT, 'only a finished check is amended, and no amendment is replaced'); END;
CREATE TRIGGER amendments_no_update BEFORE UPDATE ON amendments WHEN 1 BEGIN SELECT RAISE(ABORT, 'an amendment cannot be changed'); END;
CREATE TRIGGER amendments_no_delete BEFORE DELETE ON amendments WHEN 1 BEGIN SELECT RAISE(ABORT, 'an amendment cannot be deleted'); END;
COMMIT;
