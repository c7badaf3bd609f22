BEGIN TRANSACTION;
CREATE TABLE builds (
	id VARCHAR NOT NULL, 
	name TEXT NOT NULL, 
	tags TEXT NOT NULL, 
	CONSTRAINT pk_builds PRIMARY KEY (id)
);
INSERT INTO "builds" VALUES('mill','Mill','');
CREATE TABLE change_rows (
	change_id INTEGER NOT NULL, 
	number INTEGER NOT NULL, 
	table_name VARCHAR NOT NULL, 
	"key" TEXT NOT NULL, 
	"before" TEXT, 
	"after" TEXT, 
	CONSTRAINT pk_change_rows PRIMARY KEY (change_id, number), 
	CONSTRAINT fk_change_rows_change_id FOREIGN KEY(change_id) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "change_rows" VALUES(1,1,'parts','["f1"]',NULL,'{"id":"f1","name":"f1","tags":""}');
INSERT INTO "change_rows" VALUES(1,2,'parts','["f2"]',NULL,'{"id":"f2","name":"f2","tags":""}');
INSERT INTO "change_rows" VALUES(1,3,'parts','["w1"]',NULL,'{"id":"w1","name":"w1","tags":""}');
INSERT INTO "change_rows" VALUES(1,4,'parts','["w2"]',NULL,'{"id":"w2","name":"w2","tags":""}');
INSERT INTO "change_rows" VALUES(1,5,'parts','["b1"]',NULL,'{"id":"b1","name":"b1","tags":""}');
INSERT INTO "change_rows" VALUES(1,6,'parts','["c1"]',NULL,'{"id":"c1","name":"c1","tags":""}');
INSERT INTO "change_rows" VALUES(1,7,'parts','["t1"]',NULL,'{"id":"t1","name":"t1","tags":""}');
INSERT INTO "change_rows" VALUES(1,8,'parts','["t2"]',NULL,'{"id":"t2","name":"t2","tags":""}');
INSERT INTO "change_rows" VALUES(1,9,'parts','["k1"]',NULL,'{"id":"k1","name":"k1","tags":""}');
INSERT INTO "change_rows" VALUES(1,10,'parts','["k2"]',NULL,'{"id":"k2","name":"k2","tags":""}');
INSERT INTO "change_rows" VALUES(1,11,'parts','["s1"]',NULL,'{"id":"s1","name":"s1","tags":""}');
INSERT INTO "change_rows" VALUES(1,12,'parts','["d1"]',NULL,'{"id":"d1","name":"d1","tags":""}');
INSERT INTO "change_rows" VALUES(1,13,'parts','["d2"]',NULL,'{"id":"d2","name":"d2","tags":""}');
INSERT INTO "change_rows" VALUES(1,14,'parts','["p1"]',NULL,'{"id":"p1","name":"p1","tags":""}');
INSERT INTO "change_rows" VALUES(1,15,'parts','["key:mill"]',NULL,'{"id":"key:mill","name":"Loose key","tags":""}');
INSERT INTO "change_rows" VALUES(1,16,'builds','["mill"]',NULL,'{"id":"mill","name":"Mill","tags":""}');
INSERT INTO "change_rows" VALUES(1,17,'containers','["box"]',NULL,'{"id":"box","short_id":"4VW5CZ","name":"box","type":"plain","length_um":220000,"width_um":130000,"height_um":80000,"tare_g":500,"payload_g":5000,"stacked_on":null,"plan_id":1}');
INSERT INTO "change_rows" VALUES(1,18,'containers','["tray"]',NULL,'{"id":"tray","short_id":"NPD0SA","name":"tray","type":"plain","length_um":100000,"width_um":60000,"height_um":40000,"tare_g":300,"payload_g":2000,"stacked_on":"box","plan_id":null}');
INSERT INTO "change_rows" VALUES(1,19,'containers','["case"]',NULL,'{"id":"case","short_id":"QFYD85","name":"case","type":"plain","length_um":100000,"width_um":60000,"height_um":60000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":null}');
INSERT INTO "change_rows" VALUES(1,20,'containers','["spare"]',NULL,'{"id":"spare","short_id":"SWPSE1","name":"spare","type":"plain","length_um":50000,"width_um":50000,"height_um":50000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":null}');
INSERT INTO "change_rows" VALUES(1,21,'items','["box",1]',NULL,'{"container_id":"box","number":1,"item":"half-1","name":"half-1","kind":"sub-assembly","layer":1,"unpack_step":11,"x0_um":2000,"y0_um":2000,"z0_um":0,"x1_um":66000,"y1_um":82200,"z1_um":56200,"on_top":"3","lift_first":"3"}');
INSERT INTO "change_rows" VALUES(1,22,'items','["box",2]',NULL,'{"container_id":"box","number":2,"item":"half-2","name":"half-2","kind":"sub-assembly","layer":1,"unpack_step":10,"x0_um":68000,"y0_um":2000,"z0_um":0,"x1_um":132000,"y1_um":66000,"z1_um":56200,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(1,23,'items','["box",3]',NULL,'{"container_id":"box","number":3,"item":"keys","name":"keys","kind":"bag","layer":2,"unpack_step":9,"x0_um":10000,"y0_um":40000,"z0_um":8000,"x1_um":34000,"y1_um":60000,"z1_um":14000,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(1,24,'items','["box",4]',NULL,'{"container_id":"box","number":4,"item":"t1","name":"t1","kind":"loose","layer":1,"unpack_step":8,"x0_um":134000,"y0_um":2000,"z0_um":0,"x1_um":198000,"y1_um":34000,"z1_um":8000,"on_top":"5","lift_first":"6 5"}');
INSERT INTO "change_rows" VALUES(1,25,'items','["box",5]',NULL,'{"container_id":"box","number":5,"item":"t2","name":"t2","kind":"loose","layer":2,"unpack_step":7,"x0_um":134000,"y0_um":2000,"z0_um":8000,"x1_um":198000,"y1_um":34000,"z1_um":16000,"on_top":"6","lift_first":"6"}');
INSERT INTO "change_rows" VALUES(1,26,'items','["box",6]',NULL,'{"container_id":"box","number":6,"item":"crates","name":"crates","kind":"bag","layer":3,"unpack_step":6,"x0_um":140000,"y0_um":6000,"z0_um":16000,"x1_um":170000,"y1_um":26000,"z1_um":26000,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(1,27,'pieces','["f1"]',NULL,'{"id":"f1","part_id":"f1","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,28,'pieces','["f2"]',NULL,'{"id":"f2","part_id":"f2","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,29,'pieces','["w1"]',NULL,'{"id":"w1","part_id":"w1","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,30,'pieces','["w2"]',NULL,'{"id":"w2","part_id":"w2","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,31,'pieces','["b1"]',NULL,'{"id":"b1","part_id":"b1","build_id":"mill","weight_g":20,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,32,'pieces','["c1"]',NULL,'{"id":"c1","part_id":"c1","build_id":"mill","weight_g":6,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}');
INSERT INTO "change_rows" VALUES(1,33,'pieces','["t1"]',NULL,'{"id":"t1","part_id":"t1","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":4,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,34,'pieces','["t2"]',NULL,'{"id":"t2","part_id":"t2","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":5,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,35,'pieces','["k1"]',NULL,'{"id":"k1","part_id":"k1","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,36,'pieces','["k2"]',NULL,'{"id":"k2","part_id":"k2","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,37,'pieces','["s1"]',NULL,'{"id":"s1","part_id":"s1","build_id":null,"weight_g":35,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}');
INSERT INTO "change_rows" VALUES(1,38,'pieces','["d1"]',NULL,'{"id":"d1","part_id":"d1","build_id":null,"weight_g":50,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}');
INSERT INTO "change_rows" VALUES(1,39,'pieces','["d2"]',NULL,'{"id":"d2","part_id":"d2","build_id":null,"weight_g":25,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}');
INSERT INTO "change_rows" VALUES(1,40,'pieces','["p1"]',NULL,'{"id":"p1","part_id":"p1","build_id":null,"weight_g":60,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}');
INSERT INTO "change_rows" VALUES(1,41,'pieces','["key:mill#1"]',NULL,'{"id":"key:mill#1","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,42,'pieces','["key:mill#2"]',NULL,'{"id":"key:mill#2","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(1,43,'pieces','["key:mill#3"]',NULL,'{"id":"key:mill#3","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}');
INSERT INTO "change_rows" VALUES(2,1,'containers','["tray"]','{"id":"tray","short_id":"NPD0SA","name":"tray","type":"plain","length_um":100000,"width_um":60000,"height_um":40000,"tare_g":300,"payload_g":2000,"stacked_on":"box","plan_id":null}','{"id":"tray","short_id":"NPD0SA","name":"tray","type":"plain","length_um":100000,"width_um":60000,"height_um":40000,"tare_g":300,"payload_g":2000,"stacked_on":"box","plan_id":1}');
INSERT INTO "change_rows" VALUES(2,2,'containers','["case"]','{"id":"case","short_id":"QFYD85","name":"case","type":"plain","length_um":100000,"width_um":60000,"height_um":60000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":null}','{"id":"case","short_id":"QFYD85","name":"case","type":"plain","length_um":100000,"width_um":60000,"height_um":60000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":1}');
INSERT INTO "change_rows" VALUES(2,3,'containers','["spare"]','{"id":"spare","short_id":"SWPSE1","name":"spare","type":"plain","length_um":50000,"width_um":50000,"height_um":50000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":null}','{"id":"spare","short_id":"SWPSE1","name":"spare","type":"plain","length_um":50000,"width_um":50000,"height_um":50000,"tare_g":200,"payload_g":2000,"stacked_on":null,"plan_id":1}');
INSERT INTO "change_rows" VALUES(2,4,'items','["tray",1]',NULL,'{"container_id":"tray","number":1,"item":"s1","name":"s1","kind":"loose","layer":1,"unpack_step":5,"x0_um":2000,"y0_um":2000,"z0_um":0,"x1_um":22000,"y1_um":22000,"z1_um":30000,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(2,5,'items','["tray",2]',NULL,'{"container_id":"tray","number":2,"item":"chimney","name":"c1","kind":"sub-assembly","layer":1,"unpack_step":4,"x0_um":30000,"y0_um":2000,"z0_um":0,"x1_um":38000,"y1_um":18000,"z1_um":16000,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(2,6,'items','["case",1]',NULL,'{"container_id":"case","number":1,"item":"d1","name":"d1","kind":"loose","layer":1,"unpack_step":3,"x0_um":2000,"y0_um":2000,"z0_um":0,"x1_um":42000,"y1_um":42000,"z1_um":20000,"on_top":"3","lift_first":"3"}');
INSERT INTO "change_rows" VALUES(2,7,'items','["case",2]',NULL,'{"container_id":"case","number":2,"item":"d2","name":"d2","kind":"loose","layer":1,"unpack_step":2,"x0_um":44000,"y0_um":2000,"z0_um":0,"x1_um":64000,"y1_um":42000,"z1_um":20000,"on_top":"3","lift_first":"3"}');
INSERT INTO "change_rows" VALUES(2,8,'items','["case",3]',NULL,'{"container_id":"case","number":3,"item":"p1","name":"p1","kind":"loose","layer":2,"unpack_step":1,"x0_um":2000,"y0_um":2000,"z0_um":23000,"x1_um":64000,"y1_um":42000,"z1_um":27000,"on_top":"","lift_first":""}');
INSERT INTO "change_rows" VALUES(2,9,'pieces','["f1"]','{"id":"f1","part_id":"f1","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}','{"id":"f1","part_id":"f1","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,10,'pieces','["f2"]','{"id":"f2","part_id":"f2","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":1}','{"id":"f2","part_id":"f2","build_id":"mill","weight_g":40,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,11,'pieces','["w1"]','{"id":"w1","part_id":"w1","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}','{"id":"w1","part_id":"w1","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,12,'pieces','["w2"]','{"id":"w2","part_id":"w2","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":1}','{"id":"w2","part_id":"w2","build_id":"mill","weight_g":30,"condition":"whole","state":"stowed","container_id":"box","item_number":2,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,13,'pieces','["b1"]','{"id":"b1","part_id":"b1","build_id":"mill","weight_g":20,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":1}','{"id":"b1","part_id":"b1","build_id":"mill","weight_g":20,"condition":"whole","state":"stowed","container_id":"box","item_number":1,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,14,'pieces','["c1"]','{"id":"c1","part_id":"c1","build_id":"mill","weight_g":6,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}','{"id":"c1","part_id":"c1","build_id":"mill","weight_g":6,"condition":"whole","state":"stowed","container_id":"tray","item_number":2,"event":null,"seen_in":"tray","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,15,'pieces','["t1"]','{"id":"t1","part_id":"t1","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":4,"event":null,"seen_in":"box","seen_change":1}','{"id":"t1","part_id":"t1","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":4,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,16,'pieces','["t2"]','{"id":"t2","part_id":"t2","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":5,"event":null,"seen_in":"box","seen_change":1}','{"id":"t2","part_id":"t2","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"box","item_number":5,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,17,'pieces','["k1"]','{"id":"k1","part_id":"k1","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":1}','{"id":"k1","part_id":"k1","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,18,'pieces','["k2"]','{"id":"k2","part_id":"k2","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":1}','{"id":"k2","part_id":"k2","build_id":null,"weight_g":4,"condition":"whole","state":"stowed","container_id":"box","item_number":6,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,19,'pieces','["s1"]','{"id":"s1","part_id":"s1","build_id":null,"weight_g":35,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}','{"id":"s1","part_id":"s1","build_id":null,"weight_g":35,"condition":"whole","state":"stowed","container_id":"tray","item_number":1,"event":null,"seen_in":"tray","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,20,'pieces','["d1"]','{"id":"d1","part_id":"d1","build_id":null,"weight_g":50,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}','{"id":"d1","part_id":"d1","build_id":null,"weight_g":50,"condition":"whole","state":"stowed","container_id":"case","item_number":1,"event":null,"seen_in":"case","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,21,'pieces','["d2"]','{"id":"d2","part_id":"d2","build_id":null,"weight_g":25,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}','{"id":"d2","part_id":"d2","build_id":null,"weight_g":25,"condition":"whole","state":"stowed","container_id":"case","item_number":2,"event":null,"seen_in":"case","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,22,'pieces','["p1"]','{"id":"p1","part_id":"p1","build_id":null,"weight_g":60,"condition":"whole","state":"unstowed","container_id":null,"item_number":null,"event":null,"seen_in":null,"seen_change":null}','{"id":"p1","part_id":"p1","build_id":null,"weight_g":60,"condition":"whole","state":"stowed","container_id":"case","item_number":3,"event":null,"seen_in":"case","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,23,'pieces','["key:mill#1"]','{"id":"key:mill#1","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}','{"id":"key:mill#1","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,24,'pieces','["key:mill#2"]','{"id":"key:mill#2","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}','{"id":"key:mill#2","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":2}');
INSERT INTO "change_rows" VALUES(2,25,'pieces','["key:mill#3"]','{"id":"key:mill#3","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":1}','{"id":"key:mill#3","part_id":"key:mill","build_id":"mill","weight_g":1,"condition":"whole","state":"stowed","container_id":"box","item_number":3,"event":null,"seen_in":"box","seen_change":2}');
CREATE TABLE changes (
	id INTEGER NOT NULL, 
	at VARCHAR NOT NULL, 
	verb VARCHAR NOT NULL, 
	summary TEXT NOT NULL, 
	undoes INTEGER, 
	CONSTRAINT pk_changes PRIMARY KEY (id), 
	CONSTRAINT fk_changes_undoes FOREIGN KEY(undoes) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "changes" VALUES(1,'2026-11-25T18:27:13Z','stow','stowed box by the plan of mill and more',NULL);
INSERT INTO "changes" VALUES(2,'2026-11-25T18:27:13Z','stow','stowed the plan of mill and more',NULL);
CREATE TABLE collection (
	id INTEGER NOT NULL, 
	created_at VARCHAR NOT NULL, 
	CONSTRAINT pk_collection PRIMARY KEY (id), 
	CONSTRAINT ck_collection_only_one CHECK (id = 1)
);
INSERT INTO "collection" VALUES(1,'2026-11-25T18:27:13Z');
CREATE TABLE containers (
	id VARCHAR NOT NULL, 
	short_id VARCHAR(6) NOT NULL, 
	name TEXT NOT NULL, 
	type TEXT NOT NULL, 
	length_um INTEGER NOT NULL, 
	width_um INTEGER NOT NULL, 
	height_um INTEGER NOT NULL, 
	tare_g INTEGER NOT NULL, 
	payload_g INTEGER NOT NULL, 
	stacked_on VARCHAR, 
	plan_id INTEGER, 
	CONSTRAINT pk_containers PRIMARY KEY (id), 
	CONSTRAINT uq_containers_short_id UNIQUE (short_id), 
	CONSTRAINT fk_containers_plan_id FOREIGN KEY(plan_id) REFERENCES plans (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "containers" VALUES('box','4VW5CZ','box','plain',220000,130000,80000,500,5000,NULL,1);
INSERT INTO "containers" VALUES('tray','NPD0SA','tray','plain',100000,60000,40000,300,2000,'box',1);
INSERT INTO "containers" VALUES('case','QFYD85','case','plain',100000,60000,60000,200,2000,NULL,1);
INSERT INTO "containers" VALUES('spare','SWPSE1','spare','plain',50000,50000,50000,200,2000,NULL,1);
CREATE TABLE contents (
	piece_id VARCHAR NOT NULL, 
	part_id VARCHAR NOT NULL, 
	count INTEGER NOT NULL, 
	CONSTRAINT pk_contents PRIMARY KEY (piece_id, part_id), 
	CONSTRAINT fk_contents_piece_id FOREIGN KEY(piece_id) REFERENCES pieces (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_contents_part_id FOREIGN KEY(part_id) REFERENCES parts (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE count_lines (
	change_id INTEGER NOT NULL, 
	number INTEGER NOT NULL, 
	what TEXT NOT NULL, 
	expected INTEGER NOT NULL, 
	found INTEGER NOT NULL, 
	broken INTEGER NOT NULL, 
	CONSTRAINT pk_count_lines PRIMARY KEY (change_id, number), 
	CONSTRAINT fk_count_lines_change_id FOREIGN KEY(change_id) REFERENCES counts (change_id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE counts (
	change_id INTEGER NOT NULL, 
	container_id VARCHAR NOT NULL, 
	CONSTRAINT pk_counts PRIMARY KEY (change_id), 
	CONSTRAINT fk_counts_change_id FOREIGN KEY(change_id) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE individuals (
	piece_id VARCHAR NOT NULL, 
	name TEXT, 
	tags TEXT NOT NULL, 
	CONSTRAINT pk_individuals PRIMARY KEY (piece_id), 
	CONSTRAINT fk_individuals_piece_id FOREIGN KEY(piece_id) REFERENCES pieces (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE items (
	container_id VARCHAR NOT NULL, 
	number INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	name TEXT NOT NULL, 
	kind VARCHAR NOT NULL, 
	layer INTEGER NOT NULL, 
	unpack_step INTEGER, 
	x0_um INTEGER NOT NULL, 
	y0_um INTEGER NOT NULL, 
	z0_um INTEGER NOT NULL, 
	x1_um INTEGER NOT NULL, 
	y1_um INTEGER NOT NULL, 
	z1_um INTEGER NOT NULL, 
	on_top TEXT NOT NULL, 
	lift_first TEXT NOT NULL, 
	CONSTRAINT pk_items PRIMARY KEY (container_id, number), 
	CONSTRAINT fk_items_container_id FOREIGN KEY(container_id) REFERENCES containers (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "items" VALUES('box',1,'half-1','half-1','sub-assembly',1,11,2000,2000,0,66000,82200,56200,'3','3');
INSERT INTO "items" VALUES('box',2,'half-2','half-2','sub-assembly',1,10,68000,2000,0,132000,66000,56200,'','');
INSERT INTO "items" VALUES('box',3,'keys','keys','bag',2,9,10000,40000,8000,34000,60000,14000,'','');
INSERT INTO "items" VALUES('box',4,'t1','t1','loose',1,8,134000,2000,0,198000,34000,8000,'5','6 5');
INSERT INTO "items" VALUES('box',5,'t2','t2','loose',2,7,134000,2000,8000,198000,34000,16000,'6','6');
INSERT INTO "items" VALUES('box',6,'crates','crates','bag',3,6,140000,6000,16000,170000,26000,26000,'','');
INSERT INTO "items" VALUES('tray',1,'s1','s1','loose',1,5,2000,2000,0,22000,22000,30000,'','');
INSERT INTO "items" VALUES('tray',2,'chimney','c1','sub-assembly',1,4,30000,2000,0,38000,18000,16000,'','');
INSERT INTO "items" VALUES('case',1,'d1','d1','loose',1,3,2000,2000,0,42000,42000,20000,'3','3');
INSERT INTO "items" VALUES('case',2,'d2','d2','loose',1,2,44000,2000,0,64000,42000,20000,'3','3');
INSERT INTO "items" VALUES('case',3,'p1','p1','loose',2,1,2000,2000,23000,64000,42000,27000,'','');
CREATE TABLE packdown_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT packdown_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "packdown_version" VALUES('0001');
CREATE TABLE parts (
	id VARCHAR NOT NULL, 
	name TEXT NOT NULL, 
	tags TEXT NOT NULL, 
	CONSTRAINT pk_parts PRIMARY KEY (id)
);
INSERT INTO "parts" VALUES('f1','f1','');
INSERT INTO "parts" VALUES('f2','f2','');
INSERT INTO "parts" VALUES('w1','w1','');
INSERT INTO "parts" VALUES('w2','w2','');
INSERT INTO "parts" VALUES('b1','b1','');
INSERT INTO "parts" VALUES('c1','c1','');
INSERT INTO "parts" VALUES('t1','t1','');
INSERT INTO "parts" VALUES('t2','t2','');
INSERT INTO "parts" VALUES('k1','k1','');
INSERT INTO "parts" VALUES('k2','k2','');
INSERT INTO "parts" VALUES('s1','s1','');
INSERT INTO "parts" VALUES('d1','d1','');
INSERT INTO "parts" VALUES('d2','d2','');
INSERT INTO "parts" VALUES('p1','p1','');
INSERT INTO "parts" VALUES('key:mill','Loose key','');
CREATE TABLE photos (
	piece_id VARCHAR NOT NULL, 
	number INTEGER NOT NULL, 
	path TEXT NOT NULL, 
	CONSTRAINT pk_photos PRIMARY KEY (piece_id, number), 
	CONSTRAINT fk_photos_piece_id FOREIGN KEY(piece_id) REFERENCES individuals (piece_id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE pieces (
	id VARCHAR NOT NULL, 
	part_id VARCHAR NOT NULL, 
	build_id VARCHAR, 
	weight_g INTEGER NOT NULL, 
	condition VARCHAR NOT NULL, 
	state VARCHAR NOT NULL, 
	container_id VARCHAR, 
	item_number INTEGER, 
	event TEXT, 
	seen_in VARCHAR, 
	seen_change INTEGER, 
	CONSTRAINT pk_pieces PRIMARY KEY (id), 
	CONSTRAINT fk_pieces_container_id_item_number FOREIGN KEY(container_id, item_number) REFERENCES items (container_id, number) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_pieces_state CHECK (state IN ('stowed', 'out', 'missing', 'unstowed')), 
	CONSTRAINT ck_pieces_condition CHECK (condition IN ('whole', 'broken')), 
	CONSTRAINT ck_pieces_one_place CHECK ((state = 'stowed') = (container_id IS NOT NULL)), 
	CONSTRAINT ck_pieces_item_inside CHECK (item_number IS NULL OR container_id IS NOT NULL), 
	CONSTRAINT fk_pieces_part_id FOREIGN KEY(part_id) REFERENCES parts (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pieces_build_id FOREIGN KEY(build_id) REFERENCES builds (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pieces_container_id FOREIGN KEY(container_id) REFERENCES containers (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pieces_seen_in FOREIGN KEY(seen_in) REFERENCES containers (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pieces_seen_change FOREIGN KEY(seen_change) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "pieces" VALUES('f1','f1','mill',40,'whole','stowed','box',1,NULL,'box',2);
INSERT INTO "pieces" VALUES('f2','f2','mill',40,'whole','stowed','box',2,NULL,'box',2);
INSERT INTO "pieces" VALUES('w1','w1','mill',30,'whole','stowed','box',1,NULL,'box',2);
INSERT INTO "pieces" VALUES('w2','w2','mill',30,'whole','stowed','box',2,NULL,'box',2);
INSERT INTO "pieces" VALUES('b1','b1','mill',20,'whole','stowed','box',1,NULL,'box',2);
INSERT INTO "pieces" VALUES('c1','c1','mill',6,'whole','stowed','tray',2,NULL,'tray',2);
INSERT INTO "pieces" VALUES('t1','t1',NULL,25,'whole','stowed','box',4,NULL,'box',2);
INSERT INTO "pieces" VALUES('t2','t2',NULL,25,'whole','stowed','box',5,NULL,'box',2);
INSERT INTO "pieces" VALUES('k1','k1',NULL,4,'whole','stowed','box',6,NULL,'box',2);
INSERT INTO "pieces" VALUES('k2','k2',NULL,4,'whole','stowed','box',6,NULL,'box',2);
INSERT INTO "pieces" VALUES('s1','s1',NULL,35,'whole','stowed','tray',1,NULL,'tray',2);
INSERT INTO "pieces" VALUES('d1','d1',NULL,50,'whole','stowed','case',1,NULL,'case',2);
INSERT INTO "pieces" VALUES('d2','d2',NULL,25,'whole','stowed','case',2,NULL,'case',2);
INSERT INTO "pieces" VALUES('p1','p1',NULL,60,'whole','stowed','case',3,NULL,'case',2);
INSERT INTO "pieces" VALUES('key:mill#1','key:mill','mill',1,'whole','stowed','box',3,NULL,'box',2);
INSERT INTO "pieces" VALUES('key:mill#2','key:mill','mill',1,'whole','stowed','box',3,NULL,'box',2);
INSERT INTO "pieces" VALUES('key:mill#3','key:mill','mill',1,'whole','stowed','box',3,NULL,'box',2);
CREATE TABLE plans (
	id INTEGER NOT NULL, 
	digest VARCHAR NOT NULL, 
	workspace TEXT NOT NULL, 
	added_at VARCHAR NOT NULL, 
	document BLOB NOT NULL, 
	CONSTRAINT pk_plans PRIMARY KEY (id), 
	CONSTRAINT uq_plans_digest UNIQUE (digest)
);
INSERT INTO "plans" VALUES(1,'bae9ef537da40279976f629e111019db8181afcf2d9952e574c605bb03cea5e0','mill and more','2026-11-25T18:27:13Z',X'789CED5CEB6EA3BC16FDDFA740F93BED2838377ADEE13CC1681411701A3E082070CA449FE6DD8FAFF802047349263D9AAA6A9A8DED78AFB5B62FDB847F5F9CC5312BCE3E5AFCC759E47E10875995BEE5899F2E5EF1B54F58945196E28B2E791B14D04730DC57113A910A87AB73F2D39016ADB2222E710B905C384749E2E02BCE392B20BD5C4218E22B4BF23F3CE2CF44A2D1BC804758D0E67CFCB90164ED15970496D8FAEF8B836B5FF21C57D9E7B008604AAA7AA4257CE19405F1FEE80728234DACA8F19F2C4AD11E65092C487BFBCB195F024B56A382D1C709ED93E81CA1FD07E9C466C92F61B771E992DAA88175749F6415E9FA77CD78C2CD9092DC1AC3EB9E37FDC13D234698E37E7C4074A21EFEC046F6C759842E7193FE07C47FB9BB20FFFCC47F7ECA06FCDCA768A9B5515DBB54EABC38BF29A2110C2876A430C1CF594404FCC591D75AF016A521F5CF50331C2E51120A2AB94DF16FBD64A6E072C8A2B06410B3BEFD58BE3AEC77BB26C88A170FFFFD49BBCAAB62698CA957F957FC79795D6F71C90BD22F01C8252FA310BE11210B5396BE25F08894B75A0DFCFE5864A9FAFE804361A176D62F8AAB229ACD920370F63F52884A2E6DEA568AFC28A5F0936E13467412804902304900D349E0E0B15F177883981852F9ABD35199315199315159C6C4AA37261A40BE3A9BAD5D58D8547D0A2AD24B928CE6C20C8DCA0C8DCA32346E7121D5CD701402B7256460FD2FCFCAC18C9083192107CB0801375871B714BE37FE4A30262F9EC07ADD3B6A0D6EE1299801E387AEC024263089092C89D976F3E2D5F86D18AEEE521D8476A08F96A10D74B27203C4D1102213426442884C086528A9CADED8AF875660DC7AA8A3DE53A8D85D8E973132477D648EFAC81CF5FF72303307B11907B11907B1551CAC2D2870977C18902F761CF4547C0A12A64CB4B11908B11908B15520FC25610209A51909A51909A55524AC6C4623C050E42F2B7B167A2A3E2D0BC09285D06421345908AD58D8D8E429C44A51C1D48E859E8A4FC1C284AD71688E47A1391E85F34DCC602C093D15BF3A09B91909B91909B955246CAD327640DB3AD9AF8E6ED67B0A0A86CC092FB4914584E0B92D8D7AF293E39BC982668CA3944D2697C39B5F96F07C48AE3776625AC2D6915958997B72C81E5BF12E8657C50185E677709366BE37565349A05ED0BE9AC5B4A413580396DF00B2A86C4EDF6D8B2DB80774252098862C132E588229AA45C517D7E07DB7F3F00BF9E1C5FC24C92A72F0F00C4A6AD9B11FFDA4845C0F1086F4A8C36D8B66AA127314D58C53A5531F2654C04A30BBDB82D1C4A2A6805FD522ADD9C951DC2FA57E9E91FB9681DC9AFBE0149D537835C80F661A3302BBF1E146A6472EF1D5E877CD7CA6E471D946A4574F01AA50FA591C38745BA34E91D021574C02F483FF6185B50EEFAAB9EAB759E9AC55A977C3DB86AE0BD4DDD7EA49A36435254A0A1F419331CDD8CD99148A191D713D8FC676C3A26741E44ADB8435B6C23D4C6E5426374FCAA46BC72401BE8DCCEE6CAA2031C9B2125AD388EC06B919328156B39572D2F0A4E44D63AF330F3B923DBBD0FBCBDE2CEC75E7ADC6B157DAC5DE1C79AF9E9153CF403EEBD0D9B66A41C5C596BEEE84D738FA423BFAE64898DDA64FE79ECD9A4F489FE54ABF93BECE54D948FA661C3B7B326656D1F77F4E5F77926D1C7DB9E5EE6C7A92AE67EA7355F6C0939267BBE113ECF17C1DCFE3C1A22D6977C87E19944A0BBAE68CE40457E7B628C50D89214BA89DAFF83D45F5D905C972FCBACBB97957CA211F93A02933F7AF49E687C2C8AD49944629312DD22C15020B12E8EBF7B2F2D2E50942C48CC28230B898487AD7AE04929AF52D1AAF7024FB5C413745CC61A9CF8591D5242A41CA20CEF48325F9535CC6E261DA315483BDBF1469DDC776813BA255B7BE6164CB1311C0CC519A6579FE891507DB46A292A42A3DA5CB6BB9EB928DC86CA510A653DF794CD663DFEBDE27FE9586984BDFFF7EED860E34A1DB7AE3B073BD1EF4F486895A810A8B0E1F2FBC51F1332AC80CDE2C78C8AC8B8A86ABCD456A1F27ABA9D9345E6AAEEBA48B88D3411E825B1EA296407157EB7174F739A7B78B7D79D73CF4867A76933BD4A263BD07F332D768BAE19F4C4BCE429D9A60D29CE4EAD92A1F3A9B97CDB6F1CB8E4FCD5BF932C8CD157393CEAE6D2B1B54F8660A5A31F5CD8434A66400AD3B264297C7DE4E1967CD79B04E12AAF3A09CD9E43C582208938913A132D99B33A19C236FCE84E58367C13AB0017FCF5EE45E7996C0D6CE2454D794DCE620DFDE7B9CD3DBC5FE78EA143C3CAADD1EB9077EBD4AAF93C9D23450EE5B3BB9EFDAE40E6CE57ECCFCF300B5CB859CE5CACF52EFE19FD2FB9A2FD19403C1F9F41EB64C64EBFBCCD06B6382E619CBFBF895F7B005E451D1CC8CD1961BDEED6E7AB7FCFEBEDDEDD6EEFB6AB3F656DECEED98AB3BA3BACCFDC20C6BD5D617D71B655ED2A72735ACD5A8D7837F7854DF7533D70C69F536169A9D68DB122B279C02C4FF4A13FD16A54C61D48AE3DF24FC7694A12472227889CFBEBD49AD460EC451EE6B71E88D0A863EFC5F51A9692FC38C0528CA5279E7A053274FEAF7A70C7BC7705F2FEBCAFC5B9AB4646D3C46BF68DE40E6121898880B288964241C608A9B3DA7E7459D6768461FFF06D9B76A381695824535100BD7C0C26D62E182562CDC7B6301BE056E030B2EE35B68008906BF93A18906B04363D944A35516F745024748D544624884540371B87F84C4301F0505181320476011205F0D0A3C561C9AAAC80B58966F474567B7C78B439732DC76382C22C46B4563331B182F756FC90D4E7B7E8353A4F8F8437C94C4470920E1B2B8EF4C1496BA121A314A88D144CD912B1E6E81663A649734D42EE445F6495D276777CAAC9A66689FB3618DE7DAC94635AF1F5980FC18EE699A9C3BC884B048251F927F726B2FB7B5DC7F4492FABF9028E8042E7DB4C2D1758EC0A95CA7024EADA98670A4FFBC0026EDAA5E57E056C174555C3B4830970862F8D7CA8451C184C8969BA29FC722639925FF90C0DACDAC61D2154BDFEE8F515122C5489E41518A15320B3B056C30096C0231107863B06F20DDADC55BA0776BBC09AFBEEA62EB8E6EB0B553988178AFC6E3BD6AE01DC4967807B1A31D38B4606C055C0D7713C936A4EAE5F34D98EA0CD21CA25C4F07094C12E2D322B399848C72C8D0B86BF361DE4F089EAD85F74AB734DF5177D8A02F1720BB2940748706FA72F1E04D00423BD56882112B2BD12F87CBFB045CCAEE48291F1129F2C0650E24DCA50514DD43663062EDF8C46034D7D6F6BA08BBA1081F01853C9998058AE6CA770014DD6368F888B16266286C16A55D50E4DDAAC89F5F152FE2597205148EF66D472FA9253CACE0630152D178C87E71281A0F8D9CBBA36106CE60341E39A4DE1D0D73DBD68E46EB5CCBF178EC6CAB4CAD77C1C3DCAC0D55C7631762F746C3DCBC0D45E34F2ED795B5F95DB031F77343B179E89EEEDE60987BBAC1603C72A77F6F30CC8DDCF031F5DE491F2B0426247D1A1BB8E110FCC98CE0BD05D2D8D28D84E7CF6795EF8E94B976253DB4C28914FCCA671DEA17501E77D4D1D8560EC3FB0B1FE4A9DFFFB9DF51DE8B533FD33C3BFC433EFD939C37D3F3D5C619AEF2B4766A5DB9AA953CAE9D9ADF9567C4977B76778778703CEB52C11E55CF4CDA778A98E9334B2E6772F3D60A9B80479F6F5AFFD012EA83E0D74B97BB40CF96CB96FEB37BB23EFDE40217F2E0F90C49C7C4A973B3337A2DAD123DA5AF6B69FD356A6D40A3F7ED8D282EE94D1007DB3A8C9D7EF9FD3FC10B138E');
CREATE TABLE stowed_containers (
	change_id INTEGER NOT NULL, 
	container_id VARCHAR NOT NULL, 
	CONSTRAINT pk_stowed_containers PRIMARY KEY (change_id, container_id), 
	CONSTRAINT fk_stowed_containers_change_id FOREIGN KEY(change_id) REFERENCES stowings (change_id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "stowed_containers" VALUES(1,'box');
INSERT INTO "stowed_containers" VALUES(2,'box');
INSERT INTO "stowed_containers" VALUES(2,'tray');
INSERT INTO "stowed_containers" VALUES(2,'case');
INSERT INTO "stowed_containers" VALUES(2,'spare');
CREATE TABLE stowings (
	change_id INTEGER NOT NULL, 
	plan_id INTEGER NOT NULL, 
	CONSTRAINT pk_stowings PRIMARY KEY (change_id), 
	CONSTRAINT fk_stowings_change_id FOREIGN KEY(change_id) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_stowings_plan_id FOREIGN KEY(plan_id) REFERENCES plans (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "stowings" VALUES(1,1);
INSERT INTO "stowings" VALUES(2,1);
CREATE INDEX ix_pieces_part_id_build_id ON pieces (part_id, build_id);
CREATE INDEX ix_pieces_build_id ON pieces (build_id);
CREATE INDEX ix_pieces_container_id_item_number ON pieces (container_id, item_number);
CREATE INDEX ix_pieces_state ON pieces (state);
CREATE INDEX ix_pieces_event ON pieces (event);
CREATE INDEX ix_contents_part_id ON contents (part_id);
COMMIT;
